//! Readings as they would be without some of them.

use super::model::{Kind, Readings, Summary};

impl Readings {
    /// The same readings, as if some had not been taken: by the place of their cell in [`Readings::cells`] one value of it, or all where
    /// none is named. Climate has no part in it.
    #[must_use]
    pub fn without(&self, far: &[(usize, Option<f64>)]) -> Self {
        let mut rest = Self {
            files: self.files.clone(),
            climate: Vec::new(),
            cells: self.cells.clone(),
            apart: self.apart.clone(),
            sections: self.sections.clone(),
            shelves: self.shelves.clone(),
            contexts: self.contexts.clone(),
            context_rows: self.context_rows.clone(),
            words: self.words.clone(),
            left_out: self.left_out.clone(),
            refused: self.refused.clone(),
        };
        for &(at, value) in far {
            let Some(cell) = rest.cells.get_mut(at) else { continue };
            let rows = rest.shelves.get_mut(cell.shelf as usize);
            let packed = rows.and_then(|rows| rows.get_mut(cell.range())).unwrap_or_default();
            let meant = packed.iter_mut().filter(|one| {
                one.is_kept_number() && value.is_none_or(|value| one.value.total_cmp(&value).is_eq())
            });
            for one in meant.take(if value.is_some() { 1 } else { usize::MAX }) {
                one.kind = Kind::NotTaken;
                cell.not_taken += 1;
            }
            let taken = packed.iter().filter(|one| one.kind == Kind::Taken);
            let kept = taken.clone().filter(|one| one.is_kept_number());
            cell.all = Summary::of(&taken.map(|one| one.value).collect::<Vec<f64>>());
            cell.kept = Summary::of(&kept.map(|one| one.value).collect::<Vec<f64>>());
        }
        rest
    }
}
