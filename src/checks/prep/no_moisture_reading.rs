//! Wood or masonry of unknown moisture.

use super::film::MOISTURE;
use super::steps::{porous, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::MeasureId;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-moisture-reading",
        severity: Severity::Advice,
        what: "Wood or masonry gets its products and its moisture is not read before.",
        why: "Wet pores hold no product. Boards that differ by a few percent take different amounts, and the test compares the boards.",
        mend: "Write `read moisture at 6 places` in `prep`, or let the baseline read it, and note the meter.",
        bad: "supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        good: "supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        source: "common practice, no source; the oven-dry method is ISO 13061-1",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // There is no meter for the pores of other grounds, as fabric.
    let Some(ground) = porous(context).filter(|ground| ground.wood || ground.masonry) else { return };
    let of = |measure: MeasureId| study.measure(measure).name.value == MOISTURE;
    let in_prep = prep(context).iter().any(|step| step.measure.as_ref().is_some_and(|own| of(own.value)));
    let baseline = study.round_named("baseline").map(|id| study.round(id));
    let in_baseline = baseline.is_some_and(|round| round.reads.iter().any(|read| of(read.measure.value)));
    let Some(span) = study.prep_span.filter(|_| !in_prep && !in_baseline && !study.prep_broken) else {
        return;
    };
    let message = format!("the moisture of the {} is not read before the products go on", ground.id);
    findings.push(
        Finding::advice(CHECK.page.code, span, message)
            .help("define `measure moisture in % moisture`, and write `read moisture at 6 places` in `prep`")
            .about("prep"),
    );
}
