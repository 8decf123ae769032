//! A cut with no film reading before it.

use super::film::{Film, first_cut, is_film};
use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-film-before-cut",
        severity: Severity::Warning,
        what: "The surface is compounded, or a least film is set, and the film is not read before the first cut.",
        why: "What is taken off cannot be put back, and without the figure before nobody knows what was taken. A thin place is found too late.",
        mend: "Write `read film at 9 places, 3 times` before the first cut.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  tool \"foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  tool \"foam pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let Some(film) = Film::of(context) else { return };
    let steps = prep(context);
    let Some(first) = first_cut(steps) else { return };
    if steps[..first].iter().any(|step| is_film(context, step)) || film.round_before(context, first) {
        return;
    }
    let message = format!("the film is not read before `{}`", steps[first].verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, steps[first].span, message)
            .help("write `read film at 9 places, 3 times` above it")
            .about("prep"),
    );
}
