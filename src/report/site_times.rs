//! When each site was last read, where one was not read as long as another: its sections are open from there on.

use super::material::Material;
use super::names;
use crate::analysis::{MeasureAnalysis, Missing, RoundState};
use crate::speech::{count, list, say};
use crate::study::{RoundId, SectionId};

/// A site with its sections.
pub(super) struct SiteTimes<'s> {
    pub(super) site: &'s str,
    pub(super) sections: Vec<SectionId>,
    /// The last round read there, where another site was read at a later one.
    pub(super) early: Option<RoundId>,
}

/// The sites at which a measure was read; empty where the study has none, or reads it elsewhere than on sections of its maps.
pub(super) fn of<'s>(material: &Material<'s>, measure: &MeasureAnalysis) -> Vec<SiteTimes<'s>> {
    let study = material.study;
    let sites = study.by_site.as_ref().filter(|_| study.measure(measure.measure).home.is_none());
    let pieces = sites.map(|sites| sites.pieces()).unwrap_or_default();
    let last_at = |sections: &[SectionId]| {
        let own = measure.sections.iter().filter(|series| sections.contains(&series.section));
        let read = |series: &crate::analysis::SectionSeries| {
            let taken = |level| matches!(level, Ok(()) | Err(Missing::BelowGauge | Missing::AllLeftOut));
            series.at.iter().rposition(|at| taken(at.numbers.level.map(|_| ())))
        };
        own.filter_map(read).max()
    };
    let last = measure.rounds.iter().rposition(|round| round.state == RoundState::Read);
    let of = |(site, sections): (&'s str, Vec<SectionId>)| {
        let own = last_at(&sections)?;
        // All that is left of a site may have ended or been stopped, which is told section by section.
        let gone = |at: usize| {
            let here = measure.sections.iter().filter(|series| sections.contains(&series.section));
            let mut levels = here.filter_map(|series| series.at.get(at)?.numbers.level.err());
            levels.any(|why| why == Missing::NotRead)
        };
        let unread = last.is_some_and(|last| own < last && gone(last));
        let early = unread.then(|| measure.rounds[own].round);
        Some(SiteTimes { site, sections, early })
    };
    pieces.into_iter().filter_map(of).collect()
}

impl SiteTimes<'_> {
    /// `inland, last read at month 3`, or the name alone.
    pub(super) fn named(&self, material: &Material<'_>) -> String {
        match self.early {
            Some(round) => say!(
                "{site}, last read at {round}",
                site = self.site,
                round = names::round(material.study, round)
            ),
            None => self.site.to_owned(),
        }
    }
}

/// That nothing is known of a site from its last round on.
pub(super) fn open(material: &Material<'_>, sites: &[SiteTimes<'_>]) -> Option<String> {
    let early: Vec<&SiteTimes<'_>> = sites.iter().filter(|site| site.early.is_some()).collect();
    let told = early.iter().map(|site| {
        let round = site.early.map_or_else(Default::default, |round| names::round(material.study, round));
        let sections = count(site.sections.len(), "section");
        say!("{site} at {round} ({sections})", site = site.site, round, sections)
    });
    let told = list(&told.collect::<Vec<_>>(), "and");
    (!early.is_empty()).then(|| {
        say!(
            "Read for the last time before the last round: {told}. What was not spent there is open from that round on, and nothing is \
             known of it later.",
            told
        )
    })
}
