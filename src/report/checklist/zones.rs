//! What the map says to avoid, as a decal or a non-slip field: it is masked before the first step that would harm it.

use crate::speech::{list, say};
use crate::study::{Step, Study, Verb};

/// Steps that take something off; water and soap harm no decal. Common practice, no source.
const HARMS: [Verb; 6] =
    [Verb::Decontaminate, Verb::Clay, Verb::Compound, Verb::Polish, Verb::Sand, Verb::Wipe];

fn harms(study: &Study, step: &Step) -> bool {
    let alike = step.only.is_none() && HARMS.contains(&step.verb);
    alike && !study.surface.avoid.is_empty() && !study.is_on_racks()
}

/// Where a step is done that leaves these areas out; `None` for any other.
pub(super) fn place(study: &Study, step: &Step) -> Option<String> {
    if !harms(study, step) {
        return None;
    }
    let curved: Vec<&str> = study.surface.curved.iter().map(|area| area.name.value.as_str()).collect();
    let cuts = matches!(step.verb, Verb::Sand | Verb::Compound | Verb::Polish);
    // A pad takes most at a ridge, and nothing is read there. Common practice, no source.
    let ridge = if cuts && !curved.is_empty() {
        say!("; not on {names}, which is curved", names = list(&curved, "and"))
    } else {
        String::new()
    };
    let first = study.prep.iter().position(|own| harms(study, own));
    let own = study.prep.iter().position(|own| own.span == step.span);
    Some(match first.zip(own) {
        Some((first, own)) if own > first => {
            let last = study.prep.iter().rposition(|step| harms(study, step)) == Some(own);
            let off = if last { say!("; afterwards it comes off") } else { "" };
            say!(
                "all but what the map says to avoid, masked as for step {step}, anew where that came off{off}",
                step = first + 1,
                off
            ) + &ridge
        }
        _ => {
            say!("the whole panel but what the map says to avoid: mask that before this step").to_owned()
                + &ridge
        }
    })
}
