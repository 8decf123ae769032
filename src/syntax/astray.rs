//! Lines that stand in the wrong place: a clause on a line of its own, and a word that opens a block where another one was meant.

use super::access::Clauses;
use super::blocks::{self, BlockRule, SYNONYMS};
use super::characters::comment;
use super::firsts;
use super::lines::{Line, LineKind};
use super::parser::{Rule, parse_line};
use super::tree::{BlockKind, Statement, Value};
use crate::diag::Finding;

/// A line that belongs at the end of the head, as `gap 40 mm` of a map, or of the line above it, as `tilt 45 deg`.
pub(super) fn behind(lines: &[Line<'_>], rule: &BlockRule, line: Line<'_>) -> Option<String> {
    let at = lines.iter().position(|one| one.start == line.start)?;
    let above = lines[..at].iter().rev().filter(|one| one.kind == LineKind::Statement);
    let head = above.clone().find(|one| !one.indented)?;
    let own = line.text[..comment(line.text)].trim();
    let joined = |one: &Line<'_>| format!("{}  {own}", one.text[..comment(one.text)].trim_end());
    let short = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some(unit) = own.strip_prefix("unit ").filter(|_| rule.word == "measure") {
        let whole = format!("{} in {}", head.text[..comment(head.text)].trim_end(), unit.trim());
        return parse_line(rule.head, &whole, 0)
            .is_ok()
            .then(|| format!("it belongs to the line above: write `{}`", short(whole)));
    }
    // A name for print or some words would take any line in.
    let whole = joined(head);
    if parse_line(rule.head, &whole, 0).is_ok() && rule.word == "map" {
        return Some(format!("it belongs to the head: write `{}`", short(whole)));
    }
    let last = above.clone().next().filter(|one| one.indented)?;
    let whole = joined(last);
    let first = last.text.split([' ', '\t', ',', ':']).next()?;
    let fits = rule.child(&first.to_lowercase()).is_some_and(|child| {
        matches!(child, Rule::s_faces | Rule::s_on | Rule::s_sheet | Rule::s_batch)
            && parse_line(child, &whole, 0).is_ok()
    });
    fits.then(|| format!("it belongs to the line above: write `{}`", short(whole)))
}

/// Whether a line can be read with the word that the language has for its first one under this block; only for words that open a
/// block elsewhere.
pub(super) fn is_meant(rule: &BlockRule, line: Line<'_>, word: &str) -> bool {
    let mut meant = SYNONYMS.iter().filter(|(known, _)| blocks::block(word).is_some() && *known == word);
    meant.any(|(_, instead)| {
        let whole = line.text.get(word.len()..).map(|rest| format!("{instead}{rest}"));
        whole.zip(rule.child(instead)).is_some_and(|(whole, child)| parse_line(child, &whole, 0).is_ok())
    })
}

/// `measure stain in points 0-10`: a scale in the place of a unit would be printed as one.
pub(super) fn scale_for_unit(rule: &BlockRule, head: &Statement) -> Option<Finding> {
    let clause = head.clause("in").filter(|_| rule.kind == BlockKind::Measure)?;
    let (unit, name) = (&clause.args.last()?.value, &head.args.first()?.value);
    let (Value::Free(unit), Value::Name(name)) = (unit, name) else { return None };
    let (message, help) = firsts::rating(name, unit)?;
    Some(Finding::error("unreadable-line", clause.span, message).help(help))
}
