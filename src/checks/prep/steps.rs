//! What several checks of preparation ask about steps: in which sequence they stand, with what, of which class.

use crate::catalog::{Catalog, Class, Ground, Words};
use crate::checks::Context;
use crate::diag::{Finding, count};
use crate::study::{Mix, StatedLabel, Step, Study, Supply, Treatment, Upkeep, Verb};
use crate::units::{AnyQuantity, Dimension, decimal};

/// Steps that follow one another on the same day.
pub(super) struct Sequence<'a> {
    /// The name that a waiver may give: `prep`, `rounds` or `upkeep`.
    pub(super) place: &'static str,
    /// The steps in order.
    pub(super) steps: Vec<&'a Step>,
}

/// Preparation, the steps before each round, and each step of upkeep by itself.
pub(super) fn sequences(study: &Study) -> Vec<Sequence<'_>> {
    let prep = Sequence { place: "prep", steps: study.prep.iter().collect() };
    let before = Sequence { place: "rounds", steps: study.before_each_round.iter().collect() };
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(Sequence { place: "upkeep", steps: vec![&**step] }),
        Upkeep::None(_) => None,
    });
    [prep, before].into_iter().chain(upkeep).collect()
}

/// Every step with the place that a waiver may give.
pub(super) fn every_step(study: &Study) -> Vec<(&'static str, &Step)> {
    let sequences = sequences(study).into_iter();
    sequences
        .flat_map(|sequence| sequence.steps.into_iter().map(move |step| (sequence.place, step)))
        .collect()
}

/// The supply of a step, if it was understood.
pub(super) fn supply<'a>(study: &'a Study, step: &Step) -> Option<&'a Supply> {
    step.with.as_ref().map(|with| study.supply(with.value)).filter(|supply| !supply.broken)
}

/// The class of a supply, if it was said and the catalog knows it.
pub(super) fn class(supply: &Supply) -> Option<&'static Class> {
    supply.kind.as_ref()?.class
}

/// Whether a supply is isopropanol, whose mixes go by percent of volume.
pub(super) fn is_isopropanol(supply: &Supply) -> bool {
    class(supply).is_some_and(|class| class.id == "isopropanol")
}

/// A dwell for a message: seconds below two minutes and where minutes would not be whole.
pub(super) fn dwell(from_s: f64, to_s: f64) -> String {
    let (divisor, unit) = if from_s % 60.0 == 0.0 && to_s % 60.0 == 0.0 { (60.0, "min") } else { (1.0, "s") };
    let (from, to) = (decimal(from_s / divisor), decimal(to_s / divisor));
    if from == to { format!("{from} {unit}") } else { format!("{from} to {to} {unit}") }
}

/// The usual dwell of a class in seconds, if the catalog has both ends.
pub(super) fn usual_dwell(class: &Class) -> Option<(f64, f64)> {
    class.work.dwell_min_s.zip(class.work.dwell_max_s)
}

/// What the work touches, where the material of the panel says.
pub(super) fn ground<'a>(context: &Context<'a>) -> Option<&'a Ground> {
    let material = context.study.surface.material.as_ref()?;
    context.catalog.ground(&material.value)
}

/// What the work touches, if it draws water.
pub(super) fn porous<'a>(context: &Context<'a>) -> Option<&'a Ground> {
    ground(context).filter(|ground| ground.porous)
}

/// Steps of preparation, where all of its lines could be read.
pub(super) fn prep<'a>(context: &Context<'a>) -> &'a [Step] {
    if context.study.prep_broken { &[] } else { &context.study.prep }
}

/// Whether a step belongs to the usual preparation of the panel; it does where the material says nothing.
pub(super) fn is_needed(context: &Context<'_>, verb: Verb) -> bool {
    let general = matches!(verb, Verb::Tape | Verb::Label);
    general || ground(context).is_none_or(|ground| ground.needs(verb.word()))
}

/// Whether a step leaves the surface wet with water.
pub(super) fn wets(context: &Context<'_>, step: &Step) -> bool {
    step.rinse || context.catalog.step(step.verb.word()).is_some_and(|known| known.wets)
}

/// Whether a step grinds with a machine, so that its motor may spark.
pub(super) fn is_machine(step: &Step) -> bool {
    const WORDS: [&str; 4] = ["throw", "machine", "*maschine", "*maschinell*"];
    let tool = step.tool.as_deref().unwrap_or_default();
    is_abrasive(step) && (Catalog::built_in().speaks_of("machine", tool) || Words::of(tool).say(&WORDS))
}

/// Whether a step takes some of the surface away.
pub(in crate::checks) fn is_abrasive(step: &Step) -> bool {
    matches!(step.verb, Verb::Compound | Verb::Polish | Verb::Sand)
}

/// Whether the vapour of a supply burns, by its class or by its data sheet.
pub(super) fn is_flammable(supply: &Supply) -> bool {
    let stated = supply.stated.as_ref().is_some_and(StatedLabel::burns);
    // Until its data sheet says another, a spray can has the label of category 1.
    let can = supply.is_aerosol() && supply.label().is_none();
    stated || can || class(supply).is_some_and(|class| class.is_in("flammable"))
}

/// Whether a tool is something hot, as a lamp that dries, a gun or a flame. A lamp alone is one to look by.
pub(super) fn is_hot(tool: &str) -> bool {
    const PHRASES: [&str; 30] = [
        "heat",
        "heated",
        "heater",
        "heating",
        "infrared",
        "ir",
        "halogen",
        "hot air",
        "hot plate",
        "warm air",
        "hair dryer",
        "hairdryer",
        "blowtorch",
        "blow torch",
        "gas torch",
        "flame",
        "burner",
        "candle",
        "oven",
        "stove",
        "radiator",
        "incandescent",
        "*heissluft*",
        "*warmluft*",
        "*infrarot*",
        "*heizstrahler*",
        "*haartrockner*",
        "*gasbrenner*",
        "*loetlampe*",
        "*heizluefter*",
    ];
    const NOT: [&str; 7] = ["no", "not", "without", "never", "ohne", "kein", "keine"];
    Words::of(tool).say_undenied(&PHRASES, &NOT)
}

/// One pad is one pad, whatever the capitals and blanks in its name.
pub(super) fn folded(tool: &str) -> String {
    tool.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// The strength of isopropanol that a step works with, percent by volume, where it can be told.
pub(super) fn alcohol(context: &Context<'_>, step: &Step) -> Option<f64> {
    let supply = supply(context.study, step)?;
    // A mix that could not be taken is not that of the stock.
    if class(supply)?.id != "isopropanol" || step.broken || supply.is_unread("mix") {
        return None;
    }
    let by_volume = |any: AnyQuantity| match any.unit.dimension {
        Dimension::PercentVolume => Some(any.value),
        Dimension::PercentMass => Some(context.catalog.isopropanol()?.mass.percent_by_volume(any.value)),
        _ => None,
    };
    let stock = supply.strength.and_then(by_volume);
    match step.mix.as_ref().or(supply.mix.as_ref()).map(|mix| &mix.value) {
        Some(Mix::Percent(any)) => by_volume(*any),
        Some(Mix::Parts { of, to, .. }) => Some(stock? * of / (of + to)),
        Some(Mix::Neat) | None => stock,
    }
}

/// Seconds for which the surface is left to dry after a step, up to the first product.
pub(super) fn drying_s(steps: &[Step]) -> f64 {
    let waits = steps.iter().filter_map(|step| step.wait);
    waits.map(crate::units::Quantity::seconds).sum()
}

/// Says of findings about preparation which sections they concern, where nothing else is said of them.
pub(in crate::checks) fn name_sections(study: &Study, findings: &mut [Finding]) {
    let prepared = study.sections.iter().filter(|section| section.treatment != Treatment::Untouched).count();
    let about_prep = |finding: &&mut Finding| finding.about.iter().any(|name| name == "prep");
    if prepared == 0 {
        return;
    }
    for finding in findings.iter_mut().filter(about_prep).filter(|finding| finding.label.is_empty()) {
        finding.label = format!("on all of {}", count(prepared, "prepared section"));
    }
}

#[cfg(test)]
mod tests {
    use super::{dwell, is_hot};

    #[test]
    fn what_is_hot_is_told_from_what_only_shines() {
        for hot in
            ["heat lamp", "Hot-air gun", "Heißluftgebläse", "IR panel, 40 cm off", "gas torch", "hair dryer"]
        {
            assert!(is_hot(hot), "{hot}");
        }
        for cold in [
            "UV lamp",
            "inspection torch",
            "fan, no heat",
            "cold air",
            "Lüfter, ohne Heißluft",
            "hot water bucket",
            "",
        ] {
            assert!(!is_hot(cold), "{cold}");
        }
    }

    #[test]
    fn dwells_read_in_whole_minutes_or_in_seconds() {
        assert_eq!(dwell(120.0, 360.0), "2 to 6 min");
        assert_eq!(dwell(30.0, 180.0), "30 to 180 s");
        assert_eq!(dwell(240.0, 240.0), "4 min");
    }
}
