//! A cut with no film reading after it.

use super::film::{Film, first_cut, is_film, last_cut};
use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-film-after-cut",
        severity: Severity::Advice,
        what: "The surface is cut, and the film is not read between the last cut and the products.",
        why: "How much was taken off each place, and whether enough is left, is then never known.",
        mend: "Write `read film at 9 places, 3 times` after the last cut, or read film at the baseline.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  tool \"foam pad\"
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
    let Some(last) = first_cut(steps).and_then(|_| last_cut(steps)) else { return };
    if steps[last..].iter().any(|step| is_film(context, step)) || film.round_after(context, last) {
        return;
    }
    let message = format!("the film is not read after `{}`", steps[last].verb.word());
    findings.push(
        Finding::advice(CHECK.page.code, steps[last].span, message)
            .help("write `read film at 9 places, 3 times` below it, or let `baseline` read film")
            .about("prep"),
    );
}
