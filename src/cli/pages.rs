//! `pages`: the blocks of the pages that a study may change, and the text of one as it is built in.

use super::print::print;
use crate::diag::nearest;
use crate::pipeline::template_blocks;
use anyhow::{Result, bail};
use std::fmt::Write;

/// Prints a block, ready to be saved and changed, or the list of all.
pub(super) fn run(block: Option<&str>) -> Result<u8> {
    let Some(wanted) = block else {
        print(&list())?;
        return Ok(0);
    };
    let Some(found) = template_blocks().find(|block| block.file() == wanted) else {
        let files: Vec<String> = template_blocks().map(|block| block.file()).collect();
        match nearest(wanted, files.iter().map(String::as_str)) {
            Some(near) => bail!("no block of a page is called `{wanted}`; did you mean `{near}`?"),
            None => bail!("no block of a page is called `{wanted}`; `tapeline pages` lists them all"),
        }
    };
    print(found.text)?;
    Ok(0)
}

fn list() -> String {
    let mut text = "Blocks of the pages. Save one under its name into a folder beside the study, change it, and name the folder \
                    in the study: `pages \"FOLDER\"`. The other blocks stay those of the tool.\n"
        .to_owned();
    let mut page = "";
    for block in template_blocks() {
        if block.page != page {
            page = block.page;
            let _ = writeln!(text, "\n{page}");
        }
        let _ = writeln!(text, "  {:<26} {}", block.file(), block.what);
    }
    text
}
