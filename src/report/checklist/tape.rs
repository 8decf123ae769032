//! The tape: when and how it comes off, which sections have it, and where a label goes that lay on it.

use super::super::numbers;
use super::super::safety::Entry;
use super::lines::heads;
use super::steps::section_list;
use super::view::StepView;
use crate::speech::say;
use crate::study::{Section, Study, Treatment, Verb};

/// Bare sections have had tape too, and no coat of theirs tells when it comes off.
pub(in crate::report) fn bare_tape(study: &Study) -> Option<String> {
    let bare = study.sections_of(Treatment::Bare);
    let codes: Vec<&str> = bare.map(|(_, section)| section.code.as_str()).collect();
    (is_taped(study) && !codes.is_empty())
        .then(|| say!("{sections}: with the last of the coated ones", sections = section_list(&codes)))
}

// Tape that nobody pulls in time is cut out of a hard coat; so the paper says when, or that the study does not.
pub(super) fn tape_off(study: &Study) -> Option<String> {
    let taped = is_taped(study);
    let off = study.apply.as_ref().and_then(|apply| apply.tape_off.as_ref());
    match off {
        Some(off) => {
            let (time, how) = (numbers::amount(&off.after), pulling());
            Some(if off.first_coat {
                say!("Pull the tape of a section {time} after its first coat, whatever is put on then: {how}.", time, how)
            } else {
                say!("Pull the tape of a section {time} after its last coat, whatever is put on then: {how}.", time, how)
            })
        }
        None => taped.then(|| {
            say!(
                "The study does not say when the tape comes off: as the data sheets say, while the coat is soft."
            )
            .to_owned()
        }),
    }
}

/// Whether a step of the preparation tapes.
pub(super) fn is_taped(study: &Study) -> bool {
    study.prep.iter().any(|step| step.verb == Verb::Tape)
}

/// Where a label goes that lay on the tape: with the tape the name of its section comes off. Common practice, no source.
pub(super) fn labels_kept(study: &Study) -> Option<&'static str> {
    let labelled = study.prep.iter().any(|step| step.verb == Verb::Label);
    (is_taped(study) && labelled).then(|| {
        say!(
            "before the tape under a label is pulled, the label moves to the bare margin beside the sections, with an arrow to its own; \
             a section without a label is known by the map alone"
        )
    })
}

fn pulling() -> &'static str {
    say!(
        "slowly, folded back flat on itself, away from the coat; what it leaves is wiped off the line with a dry cloth, not off the section: \
         no spirit and no water beside a coat that has not cured"
    )
}

/// More sections than this have no box each.
const PULLED: usize = 60;

/// Pulling the tape, with a box for each section; where the study says when, the steps of the coats tell it, and here it is looked
/// over.
pub(super) fn pull(study: &Study, number: usize) -> Option<StepView> {
    let when = tape_off(study)?;
    let stated = study.apply.as_ref().is_some_and(|apply| apply.tape_off.is_some());
    let taped = |section: &&Section| {
        matches!(section.treatment, Treatment::Product(_) | Treatment::CarrierOnly | Treatment::Bare)
    };
    let codes: Vec<String> =
        study.sections.iter().filter(taped).map(|section| section.code.clone()).collect();
    let bare = bare_tape(study).map(|text| Entry::new(say!("Tape of bare ones"), text));
    // Where the study says when, the steps of the coats pull it, and what holds of all of them stands above them.
    let labels = labels_kept(study).filter(|_| !stated).map(|text| Entry::new(say!("Labels"), text));
    (!codes.is_empty()).then(|| StepView {
        number,
        title: if stated { say!("Check that no tape is left") } else { say!("Pull the tape") }.into(),
        why: say!("Tape that stays on is cut out of a hard coat, and leaves an edge.").into(),
        facts: if stated {
            bare.into_iter().chain(labels).collect()
        } else {
            let how = [Entry::new(say!("When"), when), Entry::new(say!("How"), pulling())];
            how.into_iter().chain(bare).chain(labels).collect()
        },
        cautions: Vec::new(),
        prose: String::new(),
        boxes: if codes.len() > PULLED { Vec::new() } else { codes },
        signed: false,
        fields: Vec::new(),
        blanks: if stated {
            heads(&[say!("date"), say!("time"), say!("initials")])
        } else {
            heads(&[say!("date"), say!("first at"), say!("last at"), say!("initials")])
        },
        writing: 1,
        rows: Vec::new(),
        cards: Vec::new(),
    })
}
