//! Sections of a treatment, or of several, counted by when they were spent.

use super::model::{Moment, SectionSpent, Spent};

/// When the sections of a treatment were spent, each counted once.
#[derive(Debug, Clone, PartialEq)]
pub struct SpentTally {
    /// The last round read, of those that were not spent.
    pub held: Vec<Moment>,
    /// When the others were.
    pub spent: Vec<Spent>,
    /// How many of them fell below the limit and came back.
    pub back: usize,
    /// How many left the study before they were spent, or have no time.
    pub left: usize,
    /// The last round read, of those of them that left.
    pub gone: Vec<Moment>,
}

impl SpentTally {
    /// Of these sections.
    pub fn of<'s>(rows: impl Iterator<Item = &'s SectionSpent>) -> Self {
        let mut tally = Self { held: Vec::new(), spent: Vec::new(), back: 0, left: 0, gone: Vec::new() };
        for row in rows {
            match row.when {
                Ok(when) if row.gone.is_some() => {
                    tally.left += 1;
                    tally.gone.extend(if let Spent::AtLeast(last) = when { Some(last) } else { None });
                }
                Ok(Spent::AtLeast(last)) => tally.held.push(last),
                Ok(when) => tally.spent.push(when),
                Err(_) => tally.left += 1,
            }
            tally.back += usize::from(row.came_back.is_some());
        }
        tally
    }

    /// Whether every section went on to the last round, and none was ever below the limit.
    pub fn whole(&self) -> bool {
        !self.held.is_empty() && self.spent.is_empty() && self.back == 0 && self.left == 0
    }

    /// Both together.
    #[must_use]
    pub fn with(mut self, other: Self) -> Self {
        self.held.extend(other.held);
        self.spent.extend(other.spent);
        self.gone.extend(other.gone);
        Self { back: self.back + other.back, left: self.left + other.left, ..self }
    }

    /// Those that were not spent and were read at the last round that any of them was.
    fn to_the_end(&self) -> impl Iterator<Item = Moment> {
        let last = self.held.iter().max_by_key(|moment| moment.date).map(|moment| moment.round);
        self.held.iter().copied().filter(move |moment| Some(moment.round) == last)
    }

    /// The shortest time that is known of those that were not spent, of those among them that were read last of all.
    pub fn shortest(&self) -> Option<Spent> {
        self.to_the_end().min_by_key(|moment| (moment.days, moment.round)).map(Spent::AtLeast)
    }

    /// The shortest time that is known of sections that all left before they were spent.
    pub fn left_after(&self) -> Option<Spent> {
        let all = self.gone.len() == self.left && self.held.is_empty() && self.spent.is_empty();
        let shortest = self.gone.iter().copied().min_by_key(|moment| (moment.days, moment.round));
        shortest.filter(|_| all).map(Spent::AtLeast)
    }

    /// How many that were not spent were read for the last time at an earlier round than the others of them.
    pub fn read_earlier(&self) -> usize {
        self.held.len() - self.to_the_end().count()
    }

    /// From the first round that any of the others is known to have passed, up to the last at which one failed first.
    pub fn stretch(&self) -> Option<Spent> {
        let ends = self.spent.iter().filter_map(|&when| match when {
            Spent::Between(_, to) | Spent::Before(to) => Some(to),
            Spent::AtLeast(_) => None,
        });
        let end = ends.max_by_key(|moment| (moment.days, moment.round))?;
        let starts =
            self.spent.iter().map(|&when| if let Spent::Between(from, _) = when { Some(from) } else { None });
        let starts: Option<Vec<Moment>> = starts.collect();
        let start =
            starts.and_then(|starts| starts.into_iter().min_by_key(|moment| (moment.days, moment.round)));
        Some(start.map_or(Spent::Before(end), |start| Spent::Between(start, end)))
    }
}
