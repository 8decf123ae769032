//! What is never written over: files that the study reads, and files that this program did not make.

use super::args::{OutArgs, StudyArgs};
use super::disk;
use crate::pipeline::Outcome;
use anyhow::{Result, bail};
use std::path::Path;

/// Refuses to write over a file that the study reads: what was measured is never changed.
pub(super) fn inputs(
    arguments: &StudyArgs,
    outcome: &Outcome,
    to: &OutArgs,
    files: &[(&str, &[u8])],
) -> Result<()> {
    let folder = arguments.file.parent().unwrap_or(Path::new(""));
    let blocks = outcome.blocks.iter().filter_map(|block| outcome.sources.get(block.source));
    let named = outcome.study.files().map(|name| name.value.as_str());
    let inputs = named.chain(blocks.map(|file| file.name.as_str()));
    let inputs = inputs.map(|name| folder.join(name.replace('\\', "/")));
    if let Some(photos) = &outcome.study.photos {
        let input = folder.join(photos.value.replace('\\', "/"));
        let into = |(name, _): &(&str, &[u8])| to.out.join(name).parent().map(Path::to_path_buf);
        if files.iter().filter_map(into).any(|output| disk::is_same(&input, &output)) {
            bail!(
                "{} has the photos of the study, and others would be written beside them; choose another folder with `-o`",
                input.display()
            );
        }
    }
    for input in inputs.chain([arguments.file.clone()]) {
        for (name, _) in files {
            if disk::is_same(&input, &to.out.join(name)) {
                bail!(
                    "{} is read by the study and would be written over; choose another folder with `-o`",
                    input.display()
                );
            }
        }
    }
    Ok(())
}

/// Refuses to write over a file that is there and was not made by this program: another study's readings, or somebody's own page.
pub(super) fn others(out: &Path, files: &[(&str, &[u8])]) -> Result<()> {
    // What bears no sign of its own, as a picture or a copy of the study, is known by a page beside it.
    let beside = [INDEX, PACKAGE].iter().try_fold(false, |known, name| {
        let there = disk::read_if_there(&out.join(name))?;
        anyhow::Ok(known || there.is_some_and(|bytes| is_own(name, &bytes)))
    })?;
    for (name, bytes) in files {
        let place = out.join(name);
        let Some(there) = disk::read_if_there(&place)?.filter(|there| there != bytes) else { continue };
        let marked = !is_unmarked(name);
        let twin = name.strip_suffix(".png").map(|stem| format!("{stem}.svg"));
        let by_twin = match twin {
            Some(twin) => disk::read_if_there(&out.join(&twin))?.is_some_and(|bytes| is_own(&twin, &bytes)),
            None => false,
        };
        if !(if marked { is_own(name, &there) } else { beside || by_twin }) {
            bail!(
                "{} is there and was not made by tapeline; it stays as it is. Choose another folder with `-o`, or take it away",
                place.display()
            );
        }
    }
    Ok(())
}

const INDEX: &str = "index.html";
const PACKAGE: &str = "datapackage.json";

/// Pictures, copies of what the study was made from, and tables that people fill in.
fn is_unmarked(name: &str) -> bool {
    let name = name.to_lowercase();
    let is = |endings: &[&str]| endings.iter().any(|ending| name.ends_with(ending));
    name.contains('/') || is(&[".png", ".jpg", ".jpeg"]) || (is(&[".csv"]) && !is(&["readings.csv"]))
}

/// Whether a file bears the sign that this program leaves in each of its kind.
fn is_own(name: &str, bytes: &[u8]) -> bool {
    let has = |sign: &[u8]| bytes.windows(sign.len()).any(|part| part == sign);
    match name.rsplit_once('.') {
        Some((_, "csv")) => bytes.starts_with(b"date,round,section,treatment,measure,"),
        Some((_, "svg")) => has(b"class=\"picture\""),
        _ => has(b"tapeline"),
    }
}
