//! Gauges: what each reads and sees, how it repeats, its tile and its certificates.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{Agreement, Certificate, Cost, Footprint, Gauge, MeasureId, MeasureKind, Tile};
use crate::syntax::{Args, Block, Clauses, Statement};
use crate::text::Located;
use crate::units::{Length, Time};

impl Resolver<'_> {
    pub(super) fn gauge(&mut self, block: &Block, name: Located<String>) -> Gauge {
        let mut gauge = Gauge {
            name,
            label: super::things::label(block),
            reads: Vec::new(),
            spot: None,
            foot: None,
            agreement: None,
            tile: None,
            certificates: Vec::new(),
            never_certified: None,
            cost: None,
            broken: block.broken,
        };
        let before = self.mark();
        for line in &block.children {
            self.gauge_line(line, &mut gauge);
        }
        self.tile_of_no_gloss(block, &gauge);
        gauge.broken |= self.failed_since(before);
        gauge
    }

    /// `tile n 1.567`.
    fn tile_index(&mut self, line: &Statement) -> Option<Tile> {
        let number = line.number()?.map(str::to_owned);
        let n = self.number(&number)?;
        let sensible = (1.3..=2.5).contains(&n);
        if !sensible {
            let message = format!("no tile has an index of refraction of {}", number.value);
            self.findings.push(
                Finding::error("value-out-of-range", number.span, message)
                    .help("black glass has 1.52 to 1.57; copy the index from the certificate of the tile"),
            );
        }
        sensible.then_some(Tile::Index(n))
    }

    fn tile_of_no_gloss(&mut self, block: &Block, gauge: &Gauge) {
        let known = |read: &Located<MeasureId>| {
            gauge.tile.and_then(|tile| tile.value_for(self.study.measure(read.value))).is_some()
        };
        let line = block.children.iter().find(|line| line.verb == "tile");
        if let (Some(line), Some(Tile::Index(_))) = (line, gauge.tile)
            && !gauge.reads.is_empty()
            && !gauge.reads.iter().any(known)
        {
            let message =
                "a gloss follows from the index at 20, 60 and 85 deg only, and this gauge reads none of them";
            self.findings.push(
                Finding::error("tile-of-no-gloss", line.span, message)
                    .help("write what a true gauge reads on the tile, as `tile 94.6 GU`"),
            );
        }
    }

    fn gauge_line(&mut self, line: &Statement, gauge: &mut Gauge) {
        let quantity = line.quantities().into_iter().next();
        let any = |resolver: &mut Self| {
            quantity.and_then(|quantity| resolver.ends(quantity.value, None)).map(|(low, _)| low)
        };
        let distance = |resolver: &mut Self, example: &str| {
            any(resolver).filter(|limit| resolver.above_zero(limit.value, line.span, example))
        };
        match line.verb.as_str() {
            "reads" => {
                for name in line.names() {
                    let Some(id) = self.measure_id(name) else { continue };
                    gauge.reads.push(Located::new(id, name.span));
                    if let MeasureKind::Made(made) = &self.study.measure(id).kind {
                        gauge.reads.extend(made.parts.iter().map(|&part| Located::new(part, name.span)));
                    }
                }
            }
            "spot" => gauge.spot = self.footprint(line),
            "foot" => gauge.foot = self.footprint(line),
            "two" => {
                let limit = distance(self, "two readings agree within 0.5 GU");
                gauge.agreement = limit.map(|limit| Located::new(Agreement::TwoReadings(limit), line.span));
            }
            "spread" => {
                let sd = distance(self, "spread 0.2 GU");
                gauge.agreement = sd.map(|sd| Located::new(Agreement::Spread(sd), line.span));
            }
            "tile" => gauge.tile = any(self).map(Tile::Reads).or_else(|| self.tile_index(line)),
            "certified" => self.certified(line, gauge),
            "destroys" => gauge.cost = Some(Cost::Destroys),
            "marks" => gauge.cost = quantity.and_then(|move_by| self.one::<Length>(move_by)).map(Cost::Marks),
            _ => {}
        }
    }

    fn certified(&mut self, line: &Statement, gauge: &mut Gauge) {
        if let Some(because) = line.clause("because").and_then(Args::text) {
            gauge.never_certified = Some(because.value.to_owned());
            return;
        }
        let (Some(from), Some(quantity)) = (self.date(line), line.quantities().into_iter().next()) else {
            return;
        };
        let Some(time) = self.one::<Time>(quantity) else { return };
        if let Some(until) = super::dates::later(from.value, time.any()) {
            let within = line.clause("within").and_then(|within| within.quantities().into_iter().next());
            let within = within.and_then(|within| self.ends(within.value, None)).map(|(low, _)| low);
            gauge.certificates.push(Certificate { from: from.value, until, within, span: line.span });
        }
    }

    fn footprint(&mut self, line: &Statement) -> Option<Located<Footprint>> {
        let footprint = if let Some(across) = line.quantities().into_iter().next() {
            Footprint::Across(self.one::<Length>(across)?)
        } else {
            let (width, height) = self.size(&line.args)?;
            Footprint::Size(width, height)
        };
        Some(Located::new(footprint, line.span))
    }
}
