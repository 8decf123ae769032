//! Too few places for a film reading.

use super::film::is_film;
use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::count;
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-places-too-few",
        severity: Severity::Warning,
        what: "The film is read at fewer places than the area asks for.",
        why: "A film varies by a tenth and more over a panel. A few places miss the thin one, where the cut goes through.",
        mend: "Read at 5 places up to 1 m2, 10 up to 3 m2, 15 up to 10 m2, spread over the panel.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 3 places, 3 times
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
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "ISO 19840, number of measurements by area, from memory; SSPC-PA 2, 5 spots on an area up to 10 m2",
    },
    run,
};

/// Least number of places up to an area, m2 (ISO 19840, from memory). The first line is also the 5 spots of SSPC-PA 2.
const PLACES: [(f64, u32); 4] = [(1.0, 5), (3.0, 10), (10.0, 15), (30.0, 20)];

/// The places that SSPC-PA 2 asks for on every area up to 10 m2.
const SPOTS: u32 = 5;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let Some(area) = context.study.surface.outline.as_ref().map(|outline| outline.value.area_m2()) else {
        return;
    };
    let least = PLACES.iter().find(|(up_to, _)| area <= *up_to).map_or(30, |(_, places)| *places);
    for step in prep(context).iter().filter(|step| is_film(context, step) && !step.broken) {
        let places = step.places.unwrap_or(1);
        if places >= least {
            continue;
        }
        // Between the two rules the film is known less well than it could be, and not badly.
        let severity = if places < SPOTS { Severity::Warning } else { Severity::Advice };
        let area = decimal((area * 100.0).round() / 100.0);
        let message =
            format!("{} for {area} m2 are fewer than the {least} usual", count(places as usize, "place"));
        findings.push(
            Finding::new(CHECK.page.code, severity, step.span, message)
                .help(format!("write `read film at {least} places, 3 times`"))
                .about("prep"),
        );
    }
}
