//! Air, surface, shade and tape: what is asked for while the panel is prepared and while products go on; files of climate.

use super::Resolver;
use super::values::{AIR, SURFACE};
use crate::diag::Finding;
use crate::study::{ApplyClimate, ClimateColumn, ClimateFile, HoursAbove, Pace, SiteId, Step, TapeOff};
use crate::syntax::{Args, Block, Clauses, Quantity as Written, Statement};
use crate::text::Located;
use crate::units::{Humidity, Quantity, Range, Temperature, TemperatureStep, Time};

impl Resolver<'_> {
    /// A line of `prep`: a step, or what holds for all of them.
    pub(super) fn prep_line(&mut self, line: &Statement) -> Option<Step> {
        match line.verb.as_str() {
            "shade" => self.study.prep_shade = true,
            "surface" => self.prep_surface(line),
            _ => return self.step(line),
        }
        None
    }

    pub(super) fn air(&mut self, line: &Statement, climate: &mut ApplyClimate) {
        for quantity in line.quantities() {
            let written = quantity.value.unit.as_ref().map_or("", |unit| unit.value.as_str());
            if written.starts_with('%') {
                climate.humidity = self.range::<Humidity>(quantity);
            } else {
                climate.air = self.range(quantity).and_then(|range| self.in_sense(quantity.span, range, AIR));
            }
        }
    }

    pub(super) fn surface_climate(&mut self, line: &Statement, climate: &mut ApplyClimate) {
        let Some(quantity) = line.quantities().into_iter().next() else { return };
        if line.has("dew") {
            climate.above_dew_point = self.one::<TemperatureStep>(quantity);
        } else {
            climate.surface_below = self.surface_temperature(quantity);
        }
    }

    /// A temperature that a panel can have.
    pub(super) fn surface_temperature(
        &mut self,
        quantity: Located<&Written>,
    ) -> Option<Quantity<Temperature>> {
        let below = self.one(quantity).map(|one| Range { low: one, high: one });
        below.and_then(|below| self.in_sense(quantity.span, below, SURFACE)).map(|below| below.high)
    }

    // The dew point is asked for where products go on; while it is prepared a panel is wet anyway.
    fn prep_surface(&mut self, line: &Statement) {
        let Some(quantity) = line.quantities().into_iter().next() else { return };
        if line.has("dew") {
            self.findings.push(
                Finding::error(
                    "surface-line-misplaced",
                    line.span,
                    "the dew point is asked for under `apply`",
                )
                .help("write `surface below 30 degC` here, and the margin to the dew point under `apply`"),
            );
            return;
        }
        let below = self.surface_temperature(quantity);
        self.study.prep_surface_below = below.map(|below| Located::new(below, quantity.span));
    }

    pub(super) fn tape_off(&mut self, line: &Statement) -> Option<TapeOff> {
        let after = self.range::<Time>(line.quantities().into_iter().next()?)?;
        let anchor = line.text()?;
        let words: Vec<String> = anchor.value.split_whitespace().map(str::to_lowercase).collect();
        let words = words.join(" ");
        if !matches!(words.as_str(), "last coat" | "first coat" | "apply") {
            self.findings.push(
                Finding::error(
                    "tape-off-after-what",
                    anchor.span,
                    "the tape comes off some time after a coat",
                )
                .help("write `tape off 1 h after last coat`"),
            );
            return None;
        }
        Some(TapeOff { after, first_coat: words == "first coat", span: line.span })
    }

    pub(super) fn pace(&mut self, line: &Statement) -> Pace {
        let mut time = |clause: &str, example: &str| {
            let quantity = line.clause(clause)?.quantities().into_iter().next()?;
            let time = self.one::<Time>(quantity)?;
            self.above_zero(time.seconds(), quantity.span, example).then_some(time)
        };
        Pace {
            lay_on: time("lay", "pace lay on 1 min"),
            wipe_off: time("off", "pace wipe off 1 min"),
            pull_tape: time("pull", "pace pull tape 30 s"),
            change: time("turn", "pace change 2 min"),
            between: time("between", "pace between 2 min"),
        }
    }

    pub(super) fn climate_file(&mut self, block: &Block) -> Option<ClimateFile> {
        let name = block.head.as_ref()?.text()?.map(str::to_owned);
        let before = self.mark();
        let mut file = ClimateFile {
            name,
            site: self.site_of_climate(block),
            columns: Vec::new(),
            each_row: None,
            hours: Vec::new(),
            broken: block.broken,
        };
        for line in &block.children {
            match line.verb.as_str() {
                "column" => file.columns.extend(climate_column(line)),
                "each" => file.each_row = self.each_row(line),
                "hours" => file.hours.extend(self.hours_above(line)),
                _ => {}
            }
        }
        file.broken |= self.failed_since(before);
        Some(file)
    }

    fn site_of_climate(&mut self, block: &Block) -> Option<SiteId> {
        let name = block.head.as_ref()?.clause("home").and_then(Args::name)?;
        let site = self.site_id(name.value);
        if site.is_none() {
            let known: Vec<String> = self.study.sites.iter().map(|site| site.value.clone()).collect();
            self.undefined("map", name, &known);
        }
        site.filter(|_| self.study.grids.len() > 1)
    }

    fn each_row(&mut self, line: &Statement) -> Option<Quantity<Time>> {
        let quantity = line.quantities().into_iter().next()?;
        let time = self.one::<Time>(quantity)?;
        let sensible = (1.0..=86_400.0).contains(&time.seconds());
        if !sensible {
            self.findings.push(
                Finding::error("value-out-of-range", quantity.span, format!("no row stands for {time}"))
                    .help("write the time between two rows of the file, as `each row 10 min`; a day at most"),
            );
        }
        sensible.then_some(time)
    }

    fn hours_above(&mut self, line: &Statement) -> Option<HoursAbove> {
        let what = line.name()?;
        let quantity = line.quantities().into_iter().next()?;
        let surface = match what.value.to_lowercase().as_str() {
            "air" => false,
            "surface" => true,
            _ => {
                self.findings.push(
                    Finding::error(
                        "hours-of-what",
                        what.span,
                        format!("`{}` has no temperature", what.value),
                    )
                    .help("write `hours air above 30 degC` or `hours surface above 40 degC`"),
                );
                return None;
            }
        };
        let one = self.one(quantity).map(|one| Range { low: one, high: one })?;
        let above = self.in_sense(quantity.span, one, if surface { SURFACE } else { AIR })?.low;
        Some(HoursAbove { surface, above })
    }
}

pub(super) fn climate_column(line: &Statement) -> Option<ClimateColumn> {
    Some(ClimateColumn {
        heading: line.text()?.map(str::to_owned),
        word: line.name()?.map(str::to_lowercase),
        unit: line.clause("in").and_then(Args::text).map(|unit| unit.value.to_owned()),
    })
}
