//! Two records of one thing: one too many where they say the same, and a contradiction where they do not.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Done, DoneWhat, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "done-told-twice",
        severity: Severity::Warning,
        what: "Two `done` lines, two rows of a record file, or one of each tell of the same coat on the same section, or of \
               the same step. It is advice where they say the same.",
        why: "Where they differ, one of them is wrong, and rounds, windows between coats and the report follow it. Where they \
              agree, the report prints the thing twice.",
        mend: "Keep the one that was written on the day.",
        bad: "record \"log.csv\"\ndone 2026-03-03 10:20  coat 1 of bay\n--- log.csv\nwhat,date,time\ncoat 1 of bay,2026-03-04,10:20\n",
        good: "record \"log.csv\"\ndone 2026-03-03 10:20  coat 1 of bay\n--- log.csv\nwhat,date,time\ncoat 1 of clove,2026-03-03,10:40\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (at, done) in study.done.iter().enumerate() {
        let Some(first) = study.done[..at].iter().find(|first| are_one(first, done)) else { continue };
        let (what, about) = named(study, done);
        let differ = differences(first, done);
        let finding = if differ.is_empty() {
            Finding::advice(
                CHECK.page.code,
                done.place,
                format!("{what} is told twice, and both say the same"),
            )
            .help("take one of them out")
        } else {
            let message = format!("{what} is told twice, and differently: {}", list(&differ, "and"));
            Finding::warning(CHECK.page.code, done.place, message)
                .help("keep the one that was written on the day")
        };
        findings.push(finding.related(first.place, "the other record").about(about).about("done"));
    }
}

/// Whether both tell of one thing. A step is done as often as it is, so only its number, or its day in a line and in a
/// row, makes two records of it one.
fn are_one(one: &Done, other: &Done) -> bool {
    match (&one.what, &other.what) {
        (DoneWhat::Coat(number, product), DoneWhat::Coat(again, same)) => {
            (number, product.value) == (again, same.value) && one.meets(other)
        }
        (DoneWhat::Prep(verb), DoneWhat::Prep(again)) => {
            let two_doors = one.place.file != other.place.file;
            let numbered = one.step.is_some() && one.step == other.step;
            let a_day = two_doors
                && one.date.value == other.date.value
                && (one.step.is_none() || other.step.is_none());
            verb == again
                && (one.ahead, one.upkeep) == (other.ahead, other.upkeep)
                && one.meets(other)
                && (numbered || a_day)
        }
        _ => false,
    }
}

fn named(study: &Study, done: &Done) -> (String, String) {
    match &done.what {
        DoneWhat::Coat(number, product) => {
            let name = &study.product(product.value).name.value;
            (format!("coat {number} of `{name}`"), name.clone())
        }
        DoneWhat::Prep(verb) => match done.step {
            Some(at) => {
                (format!("step {} of the preparation, `{}`,", at + 1, verb.word()), "prep".to_owned())
            }
            None => (format!("`{}`", verb.word()), "prep".to_owned()),
        },
    }
}

/// What both say and say differently.
fn differences(one: &Done, other: &Done) -> Vec<String> {
    fn differ<T: PartialEq>(
        one: Option<T>,
        other: Option<T>,
        words: impl Fn(&T) -> String,
    ) -> Option<String> {
        let (one, other) = (one?, other?);
        (one != other).then(|| format!("{} and {}", words(&one), words(&other)))
    }
    let hour = |time: &jiff::civil::Time| format!("{:02}:{:02}", time.hour(), time.minute());
    let text = |text: &&String| format!("\u{201c}{text}\u{201d}");
    let all = [
        differ(Some(one.date.value), Some(other.date.value), ToString::to_string),
        differ(one.time, other.time, hour),
        differ(one.until, other.until, hour),
        differ(one.used, other.used, ToString::to_string),
        differ(one.at, other.at, ToString::to_string),
        differ(one.humidity, other.humidity, ToString::to_string),
        differ(one.surface, other.surface, ToString::to_string),
        differ(one.by.as_ref(), other.by.as_ref(), text),
        differ(one.because.as_ref(), other.because.as_ref(), text),
    ];
    all.into_iter().flatten().collect()
}
