//! A layout whose scatter rests on so few sections that no word of comparison is given.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::planning::Room;
use crate::study::{MeasureId, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spread-from-too-few",
        severity: Severity::Warning,
        what: "The scatter among sections treated alike would rest on one or two degrees of freedom: the number of \
               sections, less one for each treatment. Where a measure decides, the sections, specimens or patches count on which it \
               is read.",
        why: "With fewer than three, intervals are so wide and so unsure that the report prints them without the \
              words alike, measurable and seen.",
        mend: "Add bare sections until sections less treatments is three or more; four to six bare are usual.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
              | bay    clove  bare   cumin  |\n    | bare   .      .      .      |\n",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
               | bay    clove  bare   cumin  |\n    | bare   bare   .      bare   |\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let measure = study.decide.as_ref().and_then(|decide| decide.measure);
    // What is read on the panel rests on its sections, and a map that nothing is read on has no scatter.
    let of_panel = || {
        let is_read = study.judged_measures().any(|(id, own)| own.home.is_none() && is_read(study, id));
        Room::on_panel(study).filter(|_| is_read)
    };
    let room = measure.map_or_else(of_panel, |measure| Room::of(study, measure));
    let Some(room) = room.filter(|room| (1..3).contains(&room.df)) else { return };
    let set =
        measure.and_then(|measure| study.measure(measure).home).map(|set| &study.specimens[set.index()]);
    let place =
        set.map(|set| set.name.span).or_else(|| study.grid().map(|grid| grid.span)).unwrap_or_default();
    let (alike, one) = match set {
        Some(set) if set.patch => ("patches", "bare specimen"),
        Some(_) => ("specimens", "bare specimen"),
        None => ("sections", "bare section"),
    };
    let message = format!(
        "the scatter among {alike} treated alike rests on {}, and words of comparison ask for three",
        if room.df == 1 { "one degree of freedom" } else { "two degrees of freedom" }
    );
    let finding = Finding::warning(CHECK.page.code, place, message)
        .help(format!("add {} or more; every one counts", count(3 - room.df, one)));
    let finding = if let Some(set) = set { finding.about(&set.name.value) } else { finding.about("map") };
    findings.push(finding.about("study"));
}

fn is_read(study: &Study, measure: MeasureId) -> bool {
    study.rounds_with_ids().any(|(round, _)| study.planned_readings(round, measure) > 0)
}
