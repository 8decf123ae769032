//! The words of the catalog that a study chooses from, as `tapeline explain kinds` prints them.

use super::{Catalog, Class, Family};
use std::fmt::Write;

/// The list of that name; `classes` is another word for `kinds`.
pub(crate) fn words_of(list: &str) -> Option<String> {
    let catalog = Catalog::built_in();
    Some(match list {
        "kinds" | "kind" | "classes" | "class" => kinds(catalog),
        "steps" | "step" => steps(catalog),
        "measures" | "measure" => measures(catalog),
        "materials" | "material" | "grounds" => materials(catalog),
        _ => return None,
    })
}

fn kinds(catalog: &Catalog) -> String {
    let mut text = String::from(
        "What a supply or product may be, as in `supply soap, a shampoo`. Each line is one chemistry with its cautions;\n\
         any of its words will do. What fits none is written in your own words, and the papers follow its data sheet.\n",
    );
    let groups = [
        ("Prepared and cleaned with", Family::Supply),
        ("Put on sections, as product", Family::Product),
        ("Either", Family::Both),
    ];
    for (head, family) in groups {
        let _ = write!(text, "\n{head}\n");
        for class in catalog.classes().iter().filter(|class| class.family == family) {
            line(&mut text, class.name, &others(class));
        }
    }
    text
}

/// The other names of a class, each once: an id may be written as an alias is.
fn others(class: &Class) -> Vec<&'static str> {
    let aliased = |name: &&str| !class.aliases.iter().any(|alias| alias == name);
    std::iter::once(class.id).filter(aliased).chain(class.aliases.iter().copied()).collect()
}

fn steps(catalog: &Catalog) -> String {
    let mut text = String::from("The steps of `prep`, and what each is done with.\n\n");
    let of =
        |id: &&str| catalog.classes().iter().find(|class| class.id == *id).map(|class: &Class| class.name);
    for step in catalog.steps() {
        line(&mut text, step.id, &step.uses.iter().filter_map(of).collect::<Vec<_>>());
    }
    text
}

fn measures(catalog: &Catalog) -> String {
    let mut text = String::from(
        "Measures that need no block, with their unit; any other is written as `measure NAME in UNIT`, or as\n\
         `measure NAME, a rating 0 to 5` where marks are given by eye.\n\n",
    );
    for measure in catalog.measures() {
        line(&mut text, measure.id, &[measure.unit]);
    }
    text
}

fn materials(catalog: &Catalog) -> String {
    let mut text = String::from(
        "Words of `material` by which is known what the work touches; others may stand beside them.\n\n",
    );
    for ground in catalog.grounds() {
        let plain = ground.words.iter().filter(|word| !word.contains('*')).copied();
        line(&mut text, ground.id, &plain.collect::<Vec<_>>());
    }
    text
}

/// A word, and others behind it, broken at 100 columns.
fn line(text: &mut String, word: &str, others: &[&str]) {
    const WIDTH: usize = 100;
    let mut row = format!("  {word}");
    for (at, other) in others.iter().enumerate() {
        let piece = format!(
            "{}{other}{}",
            if at == 0 { ": " } else { " " },
            if at + 1 < others.len() { "," } else { "" }
        );
        if row.chars().count() + piece.chars().count() > WIDTH {
            let _ = writeln!(text, "{}", row.trim_end());
            row = format!("      {}", piece.trim_start_matches([' ', ':']));
        } else {
            row.push_str(&piece);
        }
    }
    let _ = writeln!(text, "{row}");
}
