//! A reading that lies farther from the others of its cell than the gauge can account for.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, list, two_digits};
use crate::readings::{Cell, Evidence, LimitFrom, Mark, Reading, Readings, Suspect, outliers};
use crate::stats::summary::median;
use crate::study::{MeasureKind, Study};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "reading-far-off",
        severity: Severity::Warning,
        what: "A reading lies far from the others of its section and round. With four or more readings two things \
               must hold: Grubbs' test at 5 %, two-sided, and a distance from the median of the others larger than \
               the gauge's limit for two readings. With two readings only that limit counts; of three, one is held \
               against the other two by a limit of its own, 2.87 times the gauge's spread. Besides, four or more are found \
               whatever the test says where they lie apart by more than three times that limit and three times what \
               readings of a section usually do. Of 100 honest sections \
               up to 5 are found by chance. Where the gauge's spread is not declared, the pooled spread within cells \
               is taken, and the finding says so. Above five, those of one measure are one finding.",
        why: "One reading on grit or with the gauge rocked drags the mean of its section.",
        mend: "Keep it unless you know the cause. If you do, leave it out with the reason: \
               `leave out gloss-20 of C1 at month 9, reading 2, 58.7 GU because \"...\"`. The report shows both results.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,71.5,90.2\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.3,90.2\n",
        source: "Grubbs (1969), Technometrics 11, 1-21; ISO 5725-6:1994, clause 4.1, for the limit for two readings; Nair \
                 (1948), Biometrika 35, 118-144, for the farthest of three",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    // A line that leaves a reading out and could not be taken may be about this one.
    if study.readings.iter().any(|file| file.broken) {
        return;
    }
    let mut found: Vec<Vec<Far<'_>>> = (0..study.measures.len()).map(|_| Vec::new()).collect();
    for mark in &outliers(study, readings).marks {
        let Some(cell) = readings.cells().get(mark.cell) else { continue };
        // Marks of a rating have steps, and no scatter that they could break.
        if !matches!(study.measure(cell.measure).kind, MeasureKind::Rating(_))
            && let Some(own) = found.get_mut(cell.measure.index())
        {
            own.extend(far(study, readings, cell, mark));
        }
    }
    for own in &found {
        match own.as_slice() {
            few if few.len() <= MOST => findings.extend(few.iter().map(|far| told(study, readings, far))),
            many => findings.push(together(study, readings, many)),
        }
    }
}

/// Up to so many of one measure are told one by one.
const MOST: usize = 5;

/// A reading that is found, with what it is held against.
struct Far<'a> {
    cell: &'a Cell,
    mark: Mark,
    reading: Reading<'a>,
    value: f64,
    by: String,
}

fn far<'a>(study: &Study, readings: &'a Readings, cell: &'a Cell, mark: &Mark) -> Option<Far<'a>> {
    let (limit, from) = mark.limit?;
    // At the limit itself the last bits of a difference of decimals decide nothing.
    if mark.evidence != Evidence::Finding || mark.distance <= limit + 1e-9 {
        return None;
    }
    let value = match mark.suspect {
        Suspect::One(value) | Suspect::Pair(_, value) | Suspect::Ends(value, _) => value,
    };
    let reading = readings
        .of(cell)
        .find(|reading| reading.left_out.is_none() && reading.value.number() == Some(value))?;
    let unit = &study.measure(cell.measure).unit.behind();
    let bound = two_digits(limit);
    let by = match (from, cell.kept.n) {
        (LimitFrom::Declared, 3) => {
            format!(
                "one of three readings of the gauge lies within {bound}{unit} of the other two, 95 times of 100"
            )
        }
        (LimitFrom::Declared, _) => format!("two readings of the gauge agree within {bound}{unit}"),
        (LimitFrom::Pooled { .. }, _) => {
            format!("the scatter within sections allows {bound}{unit}, as no gauge declares its own")
        }
    };
    Some(Far { cell, mark: *mark, reading, value, by })
}

/// Many of one measure as one finding, since their number says more than each of them.
fn together(study: &Study, readings: &Readings, many: &[Far<'_>]) -> Finding {
    let measure = study.measure(many[0].cell.measure);
    let (name, unit) = (&measure.name.value, &measure.unit.behind());
    let cells =
        readings.cells().iter().filter(|cell| cell.measure == many[0].cell.measure && cell.kept.n > 1);
    let cells = cells.count();
    let one = |far: &Far<'_>| {
        let (section, round) =
            (&study.section(far.cell.section).code, &study.round(far.cell.round).name.value);
        format!("{}{unit} on `{section}` at `{round}`", decimal(far.value))
    };
    let named: Vec<String> = many.iter().map(one).collect();
    let message = format!(
        "{} readings of `{name}` lie far from the others of their section; chance alone would find up to {} among {}",
        many.len(),
        two_digits(0.05 * cells as f64),
        count(cells, "section and round").replace("section and rounds", "sections and rounds"),
    );
    Finding::warning(CHECK.page.code, many[0].reading.place, message)
        .help(format!("they are {}", list(&named, "and")))
        .help("so many point at the gauge or at how it is set down; leave none out without a cause that you know")
        .about(name)
}

/// The value with its point elsewhere, where it then agrees with the others as readings of the gauge do.
fn lost_point(readings: &Readings, far: &Far<'_>) -> Option<String> {
    let (limit, _) = far.mark.limit?;
    let mut others = readings.values(far.cell);
    others.remove(others.iter().position(|value| value.to_bits() == far.value.to_bits())?);
    let middle = median(&others)?;
    let moved = [far.value / 10.0, far.value * 10.0, far.value / 100.0, far.value * 100.0];
    moved.into_iter().find(|value| (value - middle).abs() <= limit).map(decimal)
}

/// How far off, with a digit more where it would else print as the limit that it is beyond.
fn distance(mark: &Mark) -> String {
    let short = two_digits(mark.distance);
    match mark.limit {
        Some((limit, _)) if two_digits(limit) == short => decimal((mark.distance * 1000.0).round() / 1000.0),
        _ => short,
    }
}

fn told(study: &Study, readings: &Readings, far: &Far<'_>) -> Finding {
    let Far { cell, mark, reading, value, by } = far;
    let measure = study.measure(cell.measure);
    let (name, unit) = (&measure.name.value, &measure.unit.behind());
    let (section, round) = (&study.section(cell.section).code, &study.round(cell.round).name.value);
    let (distance, value, number) = (distance(mark), decimal(*value), reading.number);
    let what = match mark.suspect {
        Suspect::Pair(..) => {
            format!("the two readings of `{name}` on `{section}` at `{round}` lie {distance}{unit} apart")
        }
        Suspect::Ends(low, high) => format!(
            "readings of `{name}` on `{section}` at `{round}` lie from {} to {}{unit}, {distance}{unit} apart",
            decimal(low),
            decimal(high)
        ),
        Suspect::One(_) => format!(
            "reading {number} of `{name}` on `{section}` at `{round}`, {value}{unit}, lies {distance}{unit} from the \
             median of the others"
        ),
    };
    let finding = Finding::warning(CHECK.page.code, reading.place, format!("{what}; {by}"));
    let finding = match lost_point(readings, far) {
        Some(meant) => finding.help(format!(
            "is a point lost? {meant}{unit} would lie among the others; if so, correct it in the file"
        )),
        None => finding,
    };
    let leave_out = format!(
        "where the cause is known write `leave out {name} of {section} at {round}, reading {number}, {value}{unit} because \"...\"`"
    );
    finding
        .help(match mark.suspect {
            Suspect::Ends(..) => format!("look on the sheet which of them were typed wrong; or {leave_out}"),
            _ => format!("keep it, or {leave_out}"),
        })
        .about(section)
        .about(round)
        .about(name)
}
