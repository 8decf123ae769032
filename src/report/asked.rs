//! What the answer is about: the measure and the round of the question, and what is compared there.

use super::numbers::Style;
use super::{names, numbers};
use crate::analysis::{Analysis, Compared, Question, Strength};
use crate::speech::say;
use crate::study::Study;

/// The measure and the round of the question.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub(super) study: &'a Study,
    pub(super) question: Question,
    pub(super) compared: Compared,
    /// How its numbers are printed where no standard error says that they carry less.
    pub(super) finest: Style<'a>,
    /// The least standard error of a mean at the round; `None` where it was not read or has none.
    pub(super) sure: Option<f64>,
}

impl<'a> Place<'a> {
    /// The question of an analysis, where it has one.
    pub(super) fn of(study: &'a Study, analysis: &Analysis) -> Option<Self> {
        let question = analysis.question?;
        let compared = analysis.measure(question.measure).map_or(Compared::Change, |of| of.compared);
        let sure = analysis.deciding().and_then(|(_, round)| round.standard_error());
        let finest = Style::by(study, analysis, question.measure);
        Some(Self { study, question, compared, finest, sure })
    }

    pub(super) fn measure(self) -> &'a str {
        names::measure(self.study, self.question.measure)
    }

    pub(super) fn round(self) -> String {
        names::round(self.study, self.question.round).into_owned()
    }

    /// `the change of gloss-20 up to month 3`.
    pub(super) fn compared(self) -> String {
        names::compared(self.study, self.question.measure, &self.round(), self.compared)
    }

    /// What the round is, as far as the study says so.
    pub(super) fn which(self) -> &'static str {
        if self.question.declared {
            say!("The round that decides")
        } else {
            say!("The round that this answer takes")
        }
    }

    /// How numbers of the round are printed.
    pub(super) fn style(self) -> Style<'a> {
        self.finest.as_sure_as(self.sure)
    }

    pub(super) fn decided(self, analysis: &Analysis) -> String {
        let (measure, round) = (self.measure(), self.round());
        if self.question.declared {
            let bases = analysis.deciding().map(|(_, round)| {
                let bare = round.to_bare.as_ref().map(|table| table.basis.strength);
                [bare, round.lead.as_ref().map(|table| table.basis.strength)]
            });
            let judged = bases.is_some_and(|bases| bases.contains(&Ok(Strength::Full)));
            let alone = if judged {
                say!("; each table of differences errs in 5 % of studies by itself")
            } else {
                ""
            };
            let decided =
                say!("The study names {measure} at {round} to decide{alone}.", measure, round, alone);
            return if judged { decided + &together(analysis) } else { decided };
        }
        let looks = match analysis.further_looks {
            0 => String::new(),
            1 => say!(" A product counts as told apart where its p value is below 5 %.").to_owned(),
            n => say!(
                " A product counts as told apart only where that holds with all {n} comparisons of the study counted \
                 (Holm); who may lead is judged at this round alone.",
                n
            ),
        };
        say!(
            "The study names no measure and round to decide. This answer takes its first measure, {measure}, at \
             {round}.{looks}",
            measure,
            round,
            looks
        )
    }
}

/// How often one table or another is wrong where there is nothing to find: beside the claim that each holds by itself.
fn together(analysis: &Analysis) -> String {
    let drawn = analysis.chances.as_ref().and_then(|chances| chances.as_ref().ok());
    let Some(found) = drawn.and_then(|table| table.though_alike) else { return String::new() };
    let any = numbers::share(found.any);
    if found.to_bare.is_some() {
        say!(
            " Where all products and bare are truly equal, one of them or the list of who may lead says otherwise in {any} of studies like this.",
            any
        )
    } else {
        say!(
            " Where all products are truly equal, one of them or the list of who may lead says otherwise in {any} of studies like this.",
            any
        )
    }
}
