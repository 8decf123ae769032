//! A least film that is not there to begin with.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "leave-above-film",
        severity: Severity::Error,
        what: "The film to leave is thicker than the thinnest film of the panel before any work.",
        why: "There is nothing to cut. Either the figure of the film or the limit is a slip.",
        mend: "Correct `film` or `leave at least`, or leave the cuts out.",
        bad: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        80 to 120 um
    leave       at least 90 um
",
        good: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 120 um
    leave       at least 90 um
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let surface = &context.study.surface;
    let (Some(film), Some(leave)) = (surface.film.as_ref(), surface.leave) else { return };
    if leave.mm() <= film.low.mm() + 1e-9 || surface.broken {
        return;
    }
    let span = surface.material.as_ref().map_or(surface.name.span, |material| material.span);
    let message = format!("{leave} of film are to be left, and the panel has {film} before any work");
    findings.push(
        Finding::error(CHECK.page.code, surface.span.unwrap_or(span), message)
            .label("no section has film to give")
            .help("correct `film` or `leave at least`, or take the cuts out of `prep`")
            .about("prep"),
    );
}
