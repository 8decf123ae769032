//! A person, a gauge or a hand that goes with a treatment where the study is decided.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::readings::{Confounded, GoesWith, confounded};
use crate::study::{Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "goes-with-treatment",
        severity: Severity::Warning,
        what: "At the round that decides, one person or one gauge took every section of a treatment and none of another; or one \
               person put on a product, and none of another.",
        why: "What one person or gauge reads higher than another is then in the difference between these treatments, and no \
              calculation takes it out again. Two people may differ by more than the products do.",
        mend: "Let everyone read all sections, each in rows with the own name in `by`, or let one person read them all, with one gauge. \
               What was already read stays as it is; read the round again within its window, and leave out the first readings with \
               the reason.",
        bad: "--- date 2026-06-16\n--- readings.csv\ndate,round,section,measure,unit,by,1,2,3,4,5\n\
              2026-06-13,month 3,A1,gloss-20,GU,O. H.,90.1,90.2,90.0,90.1,90.2\n\
              2026-06-13,month 3,B3,gloss-20,GU,O. H.,90.1,90.2,90.0,90.1,90.2\n\
              2026-06-13,month 3,A2,gloss-20,GU,K. M.,88.1,88.2,88.0,88.1,88.2\n\
              2026-06-13,month 3,A3,gloss-20,GU,K. M.,85.1,85.2,85.0,85.1,85.2\n",
        good: "--- date 2026-06-16\n--- readings.csv\ndate,round,section,measure,unit,by,1,2,3,4,5\n\
               2026-06-13,month 3,A1,gloss-20,GU,K. M.,90.1,90.2,90.0,90.1,90.2\n\
               2026-06-13,month 3,B3,gloss-20,GU,K. M.,90.1,90.2,90.0,90.1,90.2\n\
               2026-06-13,month 3,A2,gloss-20,GU,K. M.,88.1,88.2,88.0,88.1,88.2\n\
               2026-06-13,month 3,A3,gloss-20,GU,K. M.,85.1,85.2,85.0,85.1,85.2\n",
        source: "ISO 5725-1:2023 on what operators and equipment add to readings; Snedecor and Cochran 1989, Statistical Methods, on \
                 confounding, from memory",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(decide) = study.decide.as_ref() else { return };
    let (Some(measure), Some(round)) = (decide.measure, decide.round) else { return };
    for found in confounded(study, context.readings, measure, round) {
        let (all, none) = (words(study, &found.all_of), words(study, &found.none_of));
        let (name, at) = (&found.name, &study.round(round).name.value);
        let message = match found.what {
            GoesWith::Reader => format!("at `{at}` {name} read every section of {all} and none of {none}"),
            GoesWith::Gauge => format!("at `{at}` `{name}` read every section of {all} and none of {none}"),
            GoesWith::Hand => format!("{name} put on every section of {all} and none of {none}"),
        };
        let help = match found.what {
            GoesWith::Reader => {
                "let everyone read all sections; what these people differ by is in the difference between treatments"
            }
            GoesWith::Gauge => {
                "read all sections with each gauge; what these gauges differ by is in the difference between treatments"
            }
            GoesWith::Hand => {
                "what these hands differ by is in the difference between products, and stays there: say so where it is told"
            }
        };
        let finding = Finding::warning(CHECK.page.code, decide.span, message).help(help).about("study");
        let treatments = Confounded::products(&found.all_of).into_iter().map(Treatment::Product);
        findings.push(treatments.fold(finding, |finding, one| finding.about(study.treatment_name(one))));
    }
}

fn words(study: &Study, treatments: &[Treatment]) -> String {
    let names: Vec<String> =
        treatments.iter().map(|&treatment| format!("`{}`", study.treatment_name(treatment))).collect();
    list(&names, "and")
}
