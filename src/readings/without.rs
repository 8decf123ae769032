//! Readings as they would be without some of them.

use super::model::{Readings, Summary};
use super::shelf::Kind;

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
            let Some(shelf) = rest.shelves.get_mut(cell.shelf as usize) else { continue };
            let mut left = if value.is_some() { 1 } else { u32::MAX };
            shelf.each(cell.range(), |one| {
                let is_it = value.is_none_or(|value| one.value.total_cmp(&value).is_eq());
                if left > 0 && one.is_kept_number() && is_it {
                    one.kind = Kind::NotTaken;
                    cell.not_taken += 1;
                    cell.taken -= 1;
                    left -= 1;
                }
            });
            let rows = shelf.parts(cell.range()).flat_map(|part| part.rows);
            let kept = rows.filter(|one| one.is_kept_number());
            cell.kept = Summary::of(&kept.map(|one| one.value).collect::<Vec<f64>>());
        }
        rest
    }
}
