//! Waivers: `allow CODE for PLACE because "..."` takes a finding out of the list and into the method of the report.

use super::CHECKS;
use crate::catalog::same_name;
use crate::diag::{Finding, Page, Severity, Waived, list, nearest};
use crate::study::{Study, Waiver};
use crate::{readings, study, syntax};

/// What is left after waivers, and what they took out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Waiving {
    /// Findings that stay, and those about the waivers themselves; not sorted.
    pub findings: Vec<Finding>,
    /// Findings that are waived, in the order in which they came.
    pub waived: Vec<Waived>,
}

const WITHOUT_PLACE: Page = Page {
    code: "waiver-without-place",
    severity: Severity::Warning,
    what: "An `allow` line does not say for what. It silences nothing.",
    why: "A waiver for the whole study would hide the next fault of the same kind, which nobody has looked at.",
    mend: "Name products, sections, rounds, or `map`, `prep`, `rounds`, `study`: `allow put out before cure for clove`.",
    bad: "exposure \"Test yard\"\n    put out     2026-03-06\nallow put out before cure because \"dry spell\"\n",
    good: "exposure \"Test yard\"\n    put out     2026-03-06\n\
           allow put out before cure for exposure because \"dry spell\"\n",
    source: "a rule of the study language",
};

const WITHOUT_REASON: Page = Page {
    code: "waiver-without-reason",
    severity: Severity::Warning,
    what: "An `allow` line gives no reason. It silences nothing.",
    why: "Waivers are printed in the method of the report. One without a reason tells a critic nothing.",
    mend: "Add `because` and the reason in quotes.",
    bad: "exposure \"Test yard\"\n    put out     2026-03-06\nallow put out before cure for exposure\n",
    good: "exposure \"Test yard\"\n    put out     2026-03-06\n\
           allow put out before cure for exposure because \"dry spell\"\n",
    source: "a rule of the study language",
};

const NOT_NEEDED: Page = Page {
    code: "waiver-not-needed",
    severity: Severity::Warning,
    what: "An `allow` line names a finding that the study does not have there.",
    why: "It is printed in the method and tells the reader of a fault that is not there. Mostly the study was \
          mended since, or the place is a slip.",
    mend: "Remove the line, or correct its place.",
    bad: "allow put out before cure for exposure because \"dry spell\"\n",
    good: "exposure \"Test yard\"\n    put out     2026-03-06\n\
           allow put out before cure for exposure because \"dry spell\"\n",
    source: "a rule of the study language",
};

const NOT_ALLOWED: Page = Page {
    code: "waiver-not-allowed",
    severity: Severity::Warning,
    what: "An `allow` line names a finding that no reason can silence. The finding stays.",
    why: "People could be hurt, the file contradicts itself, or no report could be built, whatever the reason.",
    mend: "Mend what the finding says, and remove the line.",
    bad: BINDING_WAIVED,
    good: "exposure \"Test yard\"\n    put out     2026-03-06\n\
           allow put out before cure for exposure because \"dry spell\"\n",
    source: "a rule of the study language",
};

const BINDING_WAIVED: &str = "supply etch, a fluoride cleaner\n    mix         neat\n    \
    dwell       1 to 2 min\n    sheet       \"etch-sheet.pdf\" dated 2025-10-01\nprep\n    \
    wash        with soap,  1 part to 200 water,  rinse\n    \
    decontaminate with etch  for 1 min,  rinse\n    dry\n    \
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min\n    \
    tape        lines 6 mm wide\n    label\n\
    allow fluoride without gel for etch because \"used outdoors\"\n";

const UNKNOWN_CODE: Page = Page {
    code: "waiver-of-unknown-code",
    severity: Severity::Warning,
    what: "An `allow` line names a finding that does not exist.",
    why: "It silences nothing, and whoever reads it believes that something was looked at.",
    mend: "Write the name of the finding as `check` prints it, with blanks or hyphens.",
    bad: "exposure \"Test yard\"\n    put out     2026-03-06\n\
          allow put out before cuer for exposure because \"dry spell\"\n",
    good: "exposure \"Test yard\"\n    put out     2026-03-06\n\
           allow put out before cure for exposure because \"dry spell\"\n",
    source: "a rule of the study language",
};

/// The pages of findings about waivers.
pub static PAGES: &[Page] = &[WITHOUT_PLACE, WITHOUT_REASON, NOT_NEEDED, NOT_ALLOWED, UNKNOWN_CODE];

/// Takes out the findings that the study waives.
///
/// A waiver counts with a place and a reason. A finding goes when waivers of its code name every
/// section that it is about, or every product, or every round and so on: a waiver for one of two
/// sections leaves it. Findings that are binding stay. `to_come` are those that wait for their day: a
/// waiver that is there before them is not called idle. Where the study is looked at without what came
/// later they are not known, which is `None`, and no waiver is.
pub fn apply(study: &Study, findings: Vec<Finding>, to_come: Option<&[Finding]>) -> Waiving {
    if study.waivers.is_empty() {
        return Waiving { findings, waived: Vec::new() };
    }
    let mut about: Vec<Finding> =
        study.waivers.iter().filter_map(|waiver| faulty(waiver, &findings)).collect();
    let sound: Vec<&Waiver> = study.waivers.iter().filter(|waiver| is_sound(waiver)).collect();
    about.extend(sound.iter().filter_map(|waiver| {
        let idle = || to_come.and_then(|to_come| idle(waiver, &findings, to_come));
        forbidden(waiver, &findings).or_else(idle)
    }));
    let mut left = Waiving::default();
    for finding in findings {
        match reasons(study, &sound, &finding) {
            Cover::All(because) if !finding.binding => left.waived.push(Waived { finding, because }),
            Cover::Part(rest) if !finding.binding => {
                let help = format!("the waiver covers a part; {} is not in it", list(&rest, "and"));
                left.findings.push(finding.help(help));
            }
            _ => left.findings.push(finding),
        }
    }
    left.findings.extend(about);
    left
}

fn is_sound(waiver: &Waiver) -> bool {
    !waiver.places.is_empty() && waiver.because.as_ref().is_some_and(|because| !because.trim().is_empty())
}

/// What is wrong with the form of a waiver, the gravest first, so that a line has one finding.
fn faulty(waiver: &Waiver, findings: &[Finding]) -> Option<Finding> {
    let code = waiver.code.value.as_str();
    let spoken = code.replace('-', " ");
    if !is_known(code, findings) {
        let message = format!("no finding is called `{spoken}`");
        let finding = Finding::warning(UNKNOWN_CODE.code, waiver.code.span, message).about("study");
        return Some(match nearest(code, known_codes()) {
            Some(near) => {
                finding.help(format!("write `allow {}`, if that is the one", near.replace('-', " ")))
            }
            None => finding.help("write the name of the finding as `check` prints it"),
        });
    }
    if waiver.places.is_empty() {
        let message = format!("`allow {spoken}` does not say for what, and silences nothing");
        let places = places(code, findings);
        let names = if places.is_empty() { String::from("a name") } else { list(&places, "or") };
        return Some(
            Finding::warning(WITHOUT_PLACE.code, waiver.span, message)
                .help(format!("add `for` and {names}"))
                .about("study"),
        );
    }
    if is_sound(waiver) {
        return None;
    }
    let message = format!("`allow {spoken}` gives no reason, and silences nothing");
    Some(
        Finding::warning(WITHOUT_REASON.code, waiver.span, message)
            .help("add `because` and the reason in quotes")
            .about("study"),
    )
}

/// A finding of a code that is about a place.
fn met<'f>(findings: &'f [Finding], code: &str, place: &str) -> Option<&'f Finding> {
    let names = |finding: &&Finding| finding.about.iter().any(|name| is_named(name, place));
    findings.iter().filter(|finding| finding.code == code).find(names)
}

/// Whether a place of a waiver is this name. A place is one word, so a kind of several is written with hyphens.
fn is_named(name: &str, place: &str) -> bool {
    name.eq_ignore_ascii_case(place) || name.contains(' ') && same_name(name, place)
}

/// A waiver of sound form that silences nothing, because nothing is there.
fn idle(waiver: &Waiver, findings: &[Finding], to_come: &[Finding]) -> Option<Finding> {
    let code = waiver.code.value.as_str();
    if !is_known(code, findings) {
        return None;
    }
    let is_met = |place: &str| [findings, to_come].iter().any(|list| met(list, code, place).is_some());
    let place = waiver.places.iter().find(|place| !is_met(&place.value))?;
    let message = format!("`allow {}` is not needed for `{}`", code.replace('-', " "), place.value);
    let places = places(code, findings);
    let finding = Finding::warning(NOT_NEEDED.code, place.span, message).about("study");
    Some(if places.is_empty() {
        finding.help("remove it; the study has no such finding")
    } else {
        finding.help(format!("remove it, or name where the finding stands: {}", list(&places, "or")))
    })
}

/// A waiver of sound form that silences nothing, because what it names may not be silenced: the finding at its
/// place, or every finding of its code.
fn forbidden(waiver: &Waiver, findings: &[Finding]) -> Option<Finding> {
    let code = waiver.code.value.as_str();
    let mut here = waiver.places.iter().filter_map(|place| met(findings, code, &place.value));
    let all = || findings.iter().filter(|finding| finding.code == code);
    let binding = here.find(|finding| finding.binding).or_else(|| {
        // Another place would be forbidden as well, so none is offered.
        all().all(|finding| finding.binding).then(|| all().next())?
    })?;
    let message = format!("`{}` cannot be allowed, whatever the reason", code.replace('-', " "));
    let finding = Finding::warning(NOT_ALLOWED.code, waiver.code.span, message)
        .related(binding.place, "it stays here")
        .help("mend what the finding says, and remove this line");
    Some(finding.about("study"))
}

/// How much of a finding waivers cover.
enum Cover {
    All(String),
    Part(Vec<String>),
    Nothing,
}

/// The kind of thing that a name of a finding is; other words are each a kind of their own.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Section,
    Product,
    Round,
    Measure,
    Gauge,
    Supply,
    Other(usize),
}

fn reasons(study: &Study, waivers: &[&Waiver], finding: &Finding) -> Cover {
    let waivers: Vec<&&Waiver> = waivers.iter().filter(|waiver| waiver.code.value == finding.code).collect();
    let naming = |name: &str| {
        waivers.iter().find(|waiver| waiver.places.iter().any(|place| is_named(name, &place.value)))
    };
    let kinds: Vec<Kind> = finding.about.iter().enumerate().map(|(at, name)| kind(study, name, at)).collect();
    let mut part = Cover::Nothing;
    for (at, kind) in kinds.iter().enumerate() {
        // Each kind is looked at once, at its first name.
        if kinds.iter().take(at).any(|earlier| earlier == kind) {
            continue;
        }
        let names =
            finding.about.iter().zip(&kinds).filter(|(_, other)| *other == kind).map(|(name, _)| name);
        let (named, rest): (Vec<&String>, Vec<&String>) = names.partition(|name| naming(name).is_some());
        if rest.is_empty() {
            return Cover::All(joined(named.into_iter().filter_map(|name| naming(name)?.because.as_deref())));
        }
        if !named.is_empty() {
            part = Cover::Part(rest.iter().map(|name| format!("`{name}`")).collect());
        }
    }
    part
}

fn kind(study: &Study, name: &str, at: usize) -> Kind {
    let is = |other: &str| other.eq_ignore_ascii_case(name);
    if study.sections.iter().any(|section| is(&section.code)) {
        Kind::Section
    } else if study.products.iter().any(|product| is(&product.name.value)) {
        Kind::Product
    } else if study.rounds.iter().any(|round| is(&round.name.value)) {
        Kind::Round
    } else if study.measures.iter().any(|measure| is(&measure.name.value)) {
        Kind::Measure
    } else if study.gauges.iter().any(|gauge| is(&gauge.name.value)) {
        Kind::Gauge
    } else if study.supplies.iter().any(|supply| is(&supply.name.value)) {
        Kind::Supply
    } else {
        Kind::Other(at)
    }
}

/// Reasons in their order, each once.
fn joined<'w>(reasons: impl Iterator<Item = &'w str>) -> String {
    let mut once: Vec<&str> = Vec::new();
    for reason in reasons {
        if !once.contains(&reason) {
            once.push(reason);
        }
    }
    once.join("; ")
}

/// The names that findings of a code carry which may be silenced, each once, at most six.
fn places(code: &str, findings: &[Finding]) -> Vec<String> {
    let mut places: Vec<String> = Vec::new();
    let open = findings.iter().filter(|finding| finding.code == code && !finding.binding);
    for name in open.flat_map(|finding| &finding.about) {
        let name = format!("`{name}`");
        if places.len() < 6 && !places.contains(&name) {
            places.push(name);
        }
    }
    places
}

fn known_codes() -> impl Iterator<Item = &'static str> {
    let checks = CHECKS.iter().map(|check| check.page.code);
    let earlier = syntax::PAGES.iter().chain(study::PAGES).chain(readings::PAGES).map(|page| page.code);
    checks.chain(earlier)
}

fn is_known(code: &str, findings: &[Finding]) -> bool {
    known_codes().any(|known| known == code) || findings.iter().any(|finding| finding.code == code)
}
