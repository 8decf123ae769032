//! What is offered where no section has the name that was written.

use super::same_name;
use crate::diag::{list, nearest};
use crate::study::{Study, Treatment};

/// What to write instead. Codes of sections are so short that each is near to many others, so a code is never guessed.
pub(super) fn instead(study: &Study, written: &str) -> String {
    let codes: Vec<&str> = study.places().map(|(_, section)| section.code.as_str()).collect();
    if let Some(same) = codes.iter().find(|code| loose(code) == loose(written)) {
        return format!("did you mean `{same}`?");
    }
    if let Some(product) = study.products.iter().position(|product| same_name(&product.name.value, written)) {
        let own = study.sections_of(Treatment::Product(crate::study::ProductId::new(product)));
        let own: Vec<&str> = own.map(|(_, section)| section.code.as_str()).collect();
        if !own.is_empty() {
            return format!("`{written}` is a product; it stands on {}", few(&own));
        }
    }
    let of_sites: Vec<String> = codes
        .iter()
        .filter(|code| code.rsplit_once(' ').is_some_and(|(_, own)| same_name(own, written)))
        .map(|code| format!("`{code}`"))
        .collect();
    if !of_sites.is_empty() {
        return format!("each site has one; write {}", list(&of_sites, "or"));
    }
    let row =
        codes.iter().filter_map(|code| row_and_place(code)).any(|(row, _)| row.eq_ignore_ascii_case(written));
    if row {
        return format!("a whole row is written as `row {}`", written.to_uppercase());
    }
    let (site, own) = written.rsplit_once(' ').map_or(("", written), |(site, own)| (site, own));
    if let Some((row, _)) = row_and_place(own) {
        let in_row = |code: &&&str| {
            let (at, own) = code.rsplit_once(' ').map_or(("", **code), |(site, own)| (site, own));
            same_name(at, site)
                && row_and_place(own).is_some_and(|(known, _)| known.eq_ignore_ascii_case(row))
        };
        let of_row: Vec<&str> = codes.iter().filter(in_row).copied().collect();
        if let (Some(first), Some(last)) = (of_row.first(), of_row.last()) {
            let row = row.to_uppercase();
            return if first == last {
                format!("row {row} has {first} only")
            } else {
                format!("row {row} runs from {first} to {last}")
            };
        }
        let sites = study.sites.iter().map(|site| site.value.as_str());
        let meant = nearest(site, sites).map(|site| format!("{site} {own}"));
        if let Some(code) =
            codes.iter().find(|code| meant.as_ref().is_some_and(|meant| same_name(code, meant)))
        {
            return format!("did you mean `{code}`?");
        }
    } else if let Some(near) = nearest(written, codes.iter().copied()) {
        return format!("did you mean `{near}`?");
    }
    // Specimens and patches are many more; whoever means one of them has named it nearly.
    let drawn: Vec<&str> = study.sections.iter().map(|section| section.code.as_str()).collect();
    if drawn.is_empty() {
        "the map has no section yet".to_owned()
    } else {
        format!("the sections are {}", few(&drawn))
    }
}

/// All of a few codes, else the first and the last.
fn few(codes: &[&str]) -> String {
    match codes {
        [first, .., last] if codes.len() > 12 => format!("{first} to {last}"),
        codes => list(codes, "and"),
    }
}

/// The letters and the number of `B3`.
fn row_and_place(code: &str) -> Option<(&str, u32)> {
    let letters = code.len() - code.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len();
    let (row, place) = code.split_at(letters);
    Some((row, place.parse().ok()?)).filter(|(row, _)| (1..=2).contains(&row.len()))
}

/// A name without what parts words, with the letters before the number: `1A`, `A-1` and `a 1` are one.
fn loose(name: &str) -> String {
    let plain: String = name.chars().filter(|c| !c.is_whitespace() && *c != '-' && *c != '_').collect();
    let plain = plain.to_lowercase();
    let figures = plain.len() - plain.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (figures, rest) = plain.split_at(figures);
    format!("{rest}{figures}")
}
