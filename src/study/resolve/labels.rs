//! What the data sheet of a supply or product states: its hazards, how long a mix keeps, what an area takes.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{Packed, StatedLabel};
use crate::syntax::{Args, Statement};
use crate::text::Located;
use crate::units::{AnyQuantity, Dimension, Quantity, Time};

impl Resolver<'_> {
    /// `hazards H225, H319, P210`, or `hazards none`.
    pub(super) fn label(&mut self, line: &Statement) -> Option<StatedLabel> {
        let mut label = StatedLabel { hazards: Vec::new(), precautions: Vec::new(), span: line.span };
        let mut known = true;
        for name in line.names() {
            let code = written(name.value);
            if code.starts_with('P') {
                label.precautions.push(code);
                continue;
            }
            // A statement that nobody knows may be a slip for a grave one, so it is not taken as it stands.
            if self.catalog.hazard(&code).is_none() {
                known = false;
                let message = format!("`{code}` is no hazard statement that the regulation knows");
                self.findings.push(
                    Finding::error("hazard-not-known", name.span, message)
                        .help("copy the codes from section 2 of the data sheet"),
                );
            }
            label.hazards.push(code);
        }
        known.then_some(label)
    }

    /// `keeps 24 h`, `pot life 90 min`.
    pub(super) fn life(&mut self, line: &Statement) -> Option<Located<Quantity<Time>>> {
        let quantity = line.quantities().into_iter().next()?;
        self.one::<Time>(quantity).map(|time| Located::new(time, quantity.span))
    }

    /// `density 0.87 g per ml`.
    pub(super) fn density(&mut self, line: &Statement) -> Option<AnyQuantity> {
        let quantity = line.quantities().into_iter().next()?;
        let density = self.any_of(quantity, &[Dimension::Density])?;
        if density.value <= 0.0 {
            self.findings.push(
                Finding::error("value-out-of-range", quantity.span, "nothing weighs nothing")
                    .help("copy the density from section 9 of the data sheet, as `density 0.87 g per ml`"),
            );
            return None;
        }
        Some(density)
    }

    /// `uses 20 ml per m2`.
    pub(super) fn use_of(&mut self, line: &Statement) -> Option<AnyQuantity> {
        let kinds = [Dimension::VolumePerArea, Dimension::MassPerArea];
        let quantity = line.quantities().into_iter().next()?;
        let used = self.any_of(quantity, &kinds)?;
        let example = format!("uses 20 {}", used.unit.symbol);
        self.above_zero(used.value, quantity.span, &example).then_some(used)
    }
}

/// `packed aerosol`, `packed bottle`.
pub(super) fn packed(line: &Statement) -> Option<Packed> {
    if line.has("aerosol") { Some(Packed::Aerosol) } else { line.has("bottle").then_some(Packed::Bottle) }
}

// `eUh 066` is `EUH066`, `h360fd` is `H360fd`: letters behind the figures keep their case, since `d` and `D` differ.
fn written(code: &str) -> String {
    let code: String = code.chars().filter(|c| !c.is_whitespace()).collect();
    let parts = code.split('+').map(|part| {
        let figures = part.find(|c: char| c.is_ascii_digit()).unwrap_or(part.len());
        format!("{}{}", part[..figures].to_uppercase(), &part[figures..])
    });
    parts.collect::<Vec<String>>().join("+")
}
