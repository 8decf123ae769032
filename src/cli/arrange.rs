//! `arrange`: sections that the map leaves to chance are dealt out, shown, and put into the study if that is asked for.

use super::args::StudyArgs;
use super::disk;
use super::print::print;
use crate::diag::{count, list};
use crate::pipeline::{Arranged, Outcome, Verdict};
use anyhow::{Error, Result};
use std::fmt::Write;

/// Deals out, and tells how the layout stands.
pub(super) fn run(
    arguments: &StudyArgs,
    outcome: &Outcome,
    (seed, each): (Option<u32>, Option<u16>),
    write: bool,
) -> Result<u8> {
    let file = &arguments.file;
    let arranged = outcome.arrange(seed, each.map(usize::from)).map_err(Error::msg)?;
    let mut text = told(outcome, &arranged);
    let name = disk::quoted(file);
    if write {
        disk::replace(file, arranged.text.as_bytes())?;
        let _ = writeln!(text, "Written into {}. Now run `tapeline check {name}`.", file.display());
    } else {
        let each = each.map_or_else(String::new, |each| format!(" --each {each}"));
        let as_of = arguments.as_of.map_or_else(String::new, |day| format!(" --as-of {day}"));
        let seed = arranged.seed;
        let _ = writeln!(
            text,
            "Nothing was written. `tapeline arrange {name} --seed {seed}{each}{as_of} --write` puts it into the study."
        );
    }
    print(&text)?;
    Ok(0)
}

/// The rows as they are drawn now, and how they stand.
fn told(outcome: &Outcome, arranged: &Arranged) -> String {
    let deal = &arranged.deal;
    let mut text = format!(
        "{} dealt out with seed {}: the best of {} layouts.\n",
        count(deal.dealt.len(), "section"),
        arranged.seed,
        deal.tried
    );
    if deal.blocks > 1 {
        let parts = if outcome.study.dealing.blocks.is_some() { "block" } else { "site" };
        let _ = writeln!(text, "Each of {} was dealt by itself.", count(deal.blocks, parts));
    }
    text.push('\n');
    for row in &arranged.rows {
        let _ = writeln!(text, "{row}");
    }
    text.push('\n');
    stand(&mut text, outcome, &deal.verdict);
    text
}

fn stand(text: &mut String, outcome: &Outcome, verdict: &Verdict) {
    let names = |treatments: &[_]| {
        let names: Vec<String> =
            treatments.iter().map(|&one| format!("`{}`", outcome.study.treatment_name(one))).collect();
        list(&names, "and")
    };
    match verdict.side_by_side.as_slice() {
        [] if verdict.off_centre.is_some() => {
            text.push_str("No product has two sections side by side.\n");
        }
        [] => {}
        some => {
            let _ = writeln!(text, "Side by side are sections of {}.", names(some));
        }
    }
    if !verdict.in_line.is_empty() {
        let _ = writeln!(text, "All in one row or column are the sections of {}.", names(&verdict.in_line));
    }
    if let Some(off) = verdict.off_centre {
        let _ =
            writeln!(text, "The middle of a product's sections lies at most {off:.1} places off the middle.");
    }
    if let Some(far) = verdict.from_bare {
        let _ = writeln!(text, "No product lies farther than {far:.1} places from a bare section.");
    }
    if verdict.without_bare > 0 {
        let _ = writeln!(
            text,
            "{} with a product {} no bare one at {} site.",
            count(verdict.without_bare, "section"),
            if verdict.without_bare == 1 { "has" } else { "have" },
            if verdict.without_bare == 1 { "its" } else { "their" }
        );
    }
    text.push('\n');
}
