//! The user's words for every rule of the grammar, and the message of a line that does not fit.

use super::blocks::BlockRule;
use super::letters;
use super::mending::Torn;
use super::parser::Misfit;
use super::slips::{Hint, Slip};
use crate::diag::{Finding, list, nearest};
use crate::text::Span;

/// What a rule is called to the user; `None` where it is never offered.
pub(super) fn words(rule: &str) -> Option<String> {
    let fixed = FIXED.iter().find(|(name, _)| *name == rule).map(|&(_, words)| words.to_owned());
    fixed.or_else(|| rule.strip_prefix("k_").map(|word| format!("`{word}`")))
}

/// Words for rules that are not plain keywords. A test proves that each rule of the grammar is here or is a keyword.
pub(super) const FIXED: &[(&str, &str)] = &[
    ("EOI", "end of line"),
    ("end", "end of line"),
    ("k_a", "`a` or `an`"),
    ("k_comma", "`,`"),
    ("k_dew", "`dew point`"),
    ("k_least", "`at least`"),
    ("k_to", "`to`"),
    ("k_x", "`x`"),
    ("v_name", "a name"),
    ("v_supply", "a supply, or its kind as `iron remover`"),
    ("v_section", "a section, as `B3`"),
    ("v_verb", "a word"),
    ("v_round", "a round, as `baseline` or `month 6`"),
    ("v_anchor", "what it counts from, as `apply`, `put out` or a prep step"),
    ("v_place", "the name of a product, section or round"),
    ("v_text", "a text in quotes"),
    ("v_free", "some words"),
    ("v_paper", "its name"),
    ("v_kind", "what it is, as `an iron remover`"),
    ("v_label", "a statement of the label, as `H225` or `P210`"),
    ("v_code", "the name of a finding"),
    ("v_date", "a date, as `2026-04-13`"),
    ("v_time", "a time of day, as `09:00`"),
    ("v_number", "a number"),
    ("v_ratio", "a mix"),
    ("v_unit", "a unit"),
    ("v_edge", "`left`, `right`, `top` or `bottom`"),
    ("v_step", "a step, as `wash`"),
    ("v_bar", "`|`"),
    ("v_cell", "a product, `bare`, `.` or `?`"),
    ("q_qty", "a number with its unit"),
    ("q_size", "a size, as `166 x 116 mm`"),
    ("q_points", "corners, as `0 x 0, 880 x 0, 880 x 580 mm`"),
    ("q_point", "a corner, as `880 x 580`"),
    ("q_parts", "a mix, as `1 part to 200 water`"),
    ("q_bare_ratio", "a mix, as `1 part to 200 water`"),
    ("q_plain", "a number"),
    ("t_name", "a name"),
    ("t_text", "some words"),
    ("t_qty", "a number with its unit, or `none`"),
    ("k_aerosol", "`aerosol`"),
    ("t_packed", "`aerosol` or `bottle`"),
    ("t_hazards", "statements of the label, as `H226, P210`, or `none`"),
    ("t_number", "a number"),
    ("t_price", "a price, as `42.00 EUR / 50 ml`"),
    ("t_coats", "a number of coats, as `2 after 1 to 3 h`"),
    ("c_place", "`from left 44 mm, top 44 mm`"),
    ("c_centre", "`centre left 500 mm, top 300 mm`"),
    ("c_size", "`size`"),
    ("c_round", "`round, 25 mm across`"),
    ("c_corners", "`corners`"),
    ("c_because", "`because \"...\"`"),
    ("c_in", "`in` and its unit"),
    ("c_rating", "`a rating 0 to 5`"),
    ("c_home", "`on` and the specimens"),
    ("c_alone", "`each alone`"),
    ("c_bare", "`bare`"),
    ("v_symbol", "a unit"),
    ("c_kind", "what it is, as `an iron remover`"),
    ("c_kind_with_article", "what it is, as `an iron remover`"),
    ("c_dated", "`dated`"),
    ("c_opened", "`opened`"),
    ("c_amount", "`for` and an amount"),
    ("c_next", "`after 1 to 3 h`"),
    ("c_off", "`wipe off after 15 to 20 min`"),
    ("c_thinned", "`mix` and a mix"),
    ("c_rate", "an amount, as `80 ml per m2`"),
    ("c_with", "`with`"),
    ("c_dwell", "`for`"),
    ("c_rinse", "`rinse`"),
    ("c_tool", "`tool`"),
    ("c_grit", "`grit 120`"),
    ("c_wait", "`wait`"),
    ("c_cloth", "`fresh cloth`"),
    ("c_places", "`at 9 places`"),
    ("c_lines", "`lines 6 mm wide`"),
    ("c_only", "`only on` and its sections"),
    ("c_times", "`twice` or `5 times`"),
    ("c_mix", "a mix, as `neat` or `1 part to 200 water`"),
    ("c_step", "a step, as `wash`"),
    ("c_sections", "`sections`"),
    ("c_gap", "`gap`"),
    ("c_patch", "`on` and a patch, as `on spray+gel`"),
    ("c_read", "a measure and how often, as `gloss-60 3 times`"),
    ("v_patch", "a marker and a cleaner, as `spray+gel`"),
    ("c_rack", "`rack 4 rows of 7`"),
    ("c_clock", "`from 09:00`"),
    ("c_lay", "`lay on` and its time"),
    ("c_pull", "`pull tape` and its time"),
    ("c_turn", "`change` and its time"),
    ("c_between", "`between` and its time"),
    ("c_later", "`8 days after apply`"),
    ("c_anchor", "`after`"),
    ("c_before", "`before`"),
    ("c_on", "`on` and a date"),
    ("c_within", "`within`"),
    ("c_reads", "a measure and how often, as `gloss-20 5 times`"),
    ("c_first", "`from 14 days after apply`"),
    ("c_tilt", "`tilt`"),
    ("c_reading", "`reading 4`"),
    ("c_value", "the reading's value, as `58.7 GU`"),
    ("c_coat", "`coat 1 of` and a product"),
    ("c_did", "a step, as `wash`"),
    ("c_used", "`used`"),
    ("c_at", "`at`"),
    ("c_skin", "`surface` and its temperature"),
    ("c_spot", "`on` and a section"),
    ("c_ahead", "`before` and a round"),
    ("c_kept", "`as upkeep`"),
    ("c_by", "`by`"),
    ("c_reach", "what it reached, as `C3`, `row A` or `all`"),
    ("c_ends", "`ends the section`"),
    ("c_spots", "`for` and a place"),
];

/// The finding for a line that stops fitting somewhere; `start` is where the line begins in the file.
pub(super) fn misfit(
    (line, start): (&str, usize),
    block: &BlockRule,
    misfit: &Misfit,
    hint: Hint<'_>,
) -> Finding {
    let found = found_at(line, misfit.at);
    let span = Span::new(start + misfit.at, start + misfit.at + found.len().max(1));
    let expected = expected_words(misfit);
    let message = if found.is_empty() {
        format!("the line ends where {} should follow", list(&expected, "or"))
    } else {
        format!("`{found}` does not fit here")
    };
    let mut finding = Finding::error("unreadable-line", span, message);
    let slip = Slip::new(line, misfit, found, block, hint);
    let keywords = keywords(misfit);
    let torn = Torn::new((line, found), misfit, &keywords);
    if let Some((at, word, help)) = torn.reworded().or_else(|| torn.slipped(self::keywords)) {
        finding.place = Span::new(start + at, start + at + word.len().max(1)).into();
        finding.message = format!("`{word}` does not fit here");
        finding = finding.help(help);
    } else if let Some((message, help)) = letters::told(line, misfit, found) {
        finding.message = message;
        finding = finding.help(help);
    } else if let Some((message, help)) =
        slip.first_told().or_else(|| torn.one_name()).or_else(|| torn.uncounted())
    {
        finding.message = message;
        finding = finding.help(help);
    } else if let Some((message, help)) = slip.told() {
        if let Some((at, word)) = slip.instead_of_to().or_else(|| slip.bare_number(&message)) {
            finding.place = Span::new(start + at, start + at + word.len()).into();
        }
        finding.message = message;
        finding = finding.help(help);
    } else if let Some(near) = nearest_keyword(found, &expected).filter(|_| found.len() > 3) {
        // A slip of the finger needs no list of all that would fit.
        finding = finding.help(format!("did you mean `{near}`?"));
    } else if let Some(help) = torn.patched() {
        finding = finding.help(help);
    } else if !found.is_empty() && !expected.is_empty() {
        finding = match nearest_keyword(found, &expected) {
            Some(near) => finding.help(format!("did you mean `{near}`?")),
            None => finding.label(format!("expected {}", list(&expected, "or"))),
        };
    }
    finding
}

/// The word at a place of a line: up to the next blank or comma.
fn found_at(line: &str, at: usize) -> &str {
    let rest = line.get(at..).unwrap_or("");
    if rest.starts_with('#') {
        return "";
    }
    // A text in quotes is one thing, however many words it has.
    let quoted = rest.strip_prefix('"').and_then(|rest| rest.find('"')).map(|end| end + 2);
    let end = rest
        .char_indices()
        .skip(1)
        .find(|(_, c)| c.is_whitespace() || *c == ',')
        .map_or(rest.len(), |(i, _)| i);
    let end = quoted.unwrap_or(end);
    // A word of a million letters would drown its own message.
    let cut = rest.char_indices().nth(40).map_or(rest.len(), |(i, _)| i);
    &rest[..end.min(cut)]
}

/// The words of the language that would fit, as `within` of "`within`" and `from` of "`from 09:00`".
fn keywords(misfit: &Misfit) -> Vec<String> {
    let of_clause = |rule: &str| {
        let words = words(rule)?;
        let word = words.strip_prefix('`')?.split(['`', ' ']).next()?;
        word.chars().all(char::is_alphabetic).then(|| word.to_owned())
    };
    let own = |rule: &str| rule.strip_prefix("k_").map(|word| word.replace('_', " "));
    let words = misfit.expected.iter().filter_map(|rule| own(rule).or_else(|| of_clause(rule)));
    // A range would take any two numbers, and that there is none of a thing is for the user to say.
    let mut words: Vec<String> = words.filter(|word| word != "to" && word != "none").collect();
    if words.iter().any(|word| word == "at") {
        words.push("at least".into());
    }
    words.sort_unstable();
    words.dedup();
    words
}

fn expected_words(misfit: &Misfit) -> Vec<String> {
    let mut expected: Vec<String> = Vec::new();
    for rule in &misfit.expected {
        if let Some(words) = words(rule)
            && !expected.contains(&words)
        {
            expected.push(words);
        }
    }
    // The end of the line is the least helpful of all that fits, so it is named last.
    expected.sort_by_key(|words| words == "end of line");
    if expected.is_empty() {
        expected.push("something else".to_owned());
    }
    expected
}

fn nearest_keyword<'e>(found: &str, expected: &'e [String]) -> Option<&'e str> {
    let keywords = expected.iter().flat_map(|words| words.split('`').skip(1).step_by(2));
    nearest(found, keywords.filter(|word| !word.contains(' ')))
}

#[cfg(test)]
mod tests {
    use super::super::parser::rule_names;
    use super::*;

    #[test]
    fn every_rule_that_can_be_expected_has_words_for_the_user() {
        // Statements, places of a table and silent rules are never expected inside a line.
        let inner = ["s_", "t_"];
        for name in rule_names() {
            let shown =
                ["v_", "q_", "c_", "k_"].iter().any(|prefix| name.starts_with(prefix)) || name == "end";
            if shown && !inner.iter().any(|prefix| name.starts_with(prefix)) {
                assert!(words(name).is_some(), "no words for {name}");
            }
        }
    }

    #[test]
    fn every_fixed_word_belongs_to_a_rule() {
        let names: Vec<&str> = rule_names().collect();
        for (name, _) in FIXED {
            assert!(*name == "EOI" || names.contains(name), "{name} is no rule");
        }
    }
}
