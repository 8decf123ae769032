//! The panel: places from any edge become mm from the top left.

use super::Resolver;
use crate::diag::Finding;
use crate::study::{Area, Outline, Point};
use crate::syntax::{Arg, Args, BlockKind, Clause, Clauses, Statement, Value};
use crate::text::Located;
use crate::units::{AnyQuantity, Length, Quantity, Range};

/// The thickest film that is taken for one, mm; a slip from um to mm is larger. Common practice, no source.
const THICKEST_FILM_MM: f64 = 10.0;

impl Resolver<'_> {
    pub(super) fn panel(&mut self) {
        self.surface();
        self.benchmark();
        self.maps();
        self.groups();
        self.by_site();
    }

    fn surface(&mut self) {
        let Some(block) = self.block(BlockKind::Surface) else { return };
        let before = self.mark();
        let name = block.head.as_ref().and_then(Args::name).map(|name| name.map(str::to_owned));
        let surface = &mut self.study.surface;
        surface.name = name.or_else(|| block.salvaged.clone()).unwrap_or_default();
        surface.span = Some(block.span);
        surface.broken = block.broken || self.twice.contains(&BlockKind::Surface);
        block.prose().clone_into(&mut surface.prose);
        // The size comes first, because places may be counted from any edge.
        for line in block.children.iter().filter(|line| line.verb == "size" || line.verb == "corners") {
            self.surface_outline(line);
        }
        let sizes = ["size", "corners", "each"];
        let sized = block.children.iter().any(|line| sizes.contains(&line.verb.as_str()));
        if !sized && !block.broken {
            self.findings.push(
                Finding::error("surface-without-size", block.span, "the surface has no size").help(
                    "write `size 880 x 580 mm` under it, or `each 300 x 90 mm` where it is many specimens",
                ),
            );
        }
        for line in &block.children {
            self.surface_line(line);
        }
        self.study.surface.broken |= self.failed_since(before);
    }

    fn surface_outline(&mut self, line: &Statement) {
        if line.verb == "corners" {
            let outline = self.points(&line.args).map(Outline::Polygon);
            self.study.surface.outline = outline.map(|outline| Located::new(outline, line.span));
            if let Some(Located { value, .. }) = &self.study.surface.outline {
                let (_, _, right, bottom) = value.bounds();
                self.study.surface.width = Some(Quantity::from_mm(right));
                self.study.surface.height = Some(Quantity::from_mm(bottom));
            }
            return;
        }
        let Some((width, height)) = self.size(&line.args) else { return };
        let outline =
            Outline::Rectangle { at: Point { x: 0.0, y: 0.0 }, width: width.mm(), height: height.mm() };
        self.study.surface.outline = Some(Located::new(outline, line.span));
        self.study.surface.width = Some(width);
        self.study.surface.height = Some(height);
    }

    fn surface_line(&mut self, line: &Statement) {
        let text = line.text().map(|text| text.map(str::to_owned));
        match line.verb.as_str() {
            "material" => self.study.surface.material = text,
            "each" => self.study.surface.each = self.size(&line.args),
            "origin" => self.study.surface.origin = text.map(|text| text.value),
            "film" => {
                let film = self.range_of::<Length>(line);
                self.study.surface.film = film.and_then(|film| self.film(film));
            }
            "leave" => {
                let quantity = line.quantities().into_iter().next();
                let leave = quantity.and_then(|leave| Some(Located::new(self.one(leave)?, leave.span)));
                let leave = leave.map(|leave| leave.map(|one| Range { low: one, high: one }));
                self.study.surface.leave = leave.and_then(|leave| self.film(leave)).map(|leave| leave.low);
            }
            "avoid" | "curved" => match self.area(line) {
                Some(area) if line.verb == "avoid" => self.study.surface.avoid.push(area),
                Some(area) => self.study.surface.curved.push(area),
                None => self.study.surface.broken = true,
            },
            _ => {}
        }
    }

    /// The same film, where it is as thin as films are.
    fn film(&mut self, film: Located<Range<Length>>) -> Option<Range<Length>> {
        if film.value.high.mm() <= THICKEST_FILM_MM {
            return Some(film.value);
        }
        let written = film.value.to_string();
        let number = written.trim_end_matches(film.value.high.any().unit.symbol);
        let finding =
            Finding::error("value-out-of-range", film.span, format!("{written} is more than a film has"));
        self.findings.push(if film.value.high.any().value < 1000.0 * THICKEST_FILM_MM {
            finding.help(format!("write `{number}um`, if that is what was read"))
        } else {
            finding.help(format!("write at most {THICKEST_FILM_MM} mm"))
        });
        None
    }

    fn area(&mut self, line: &Statement) -> Option<Area> {
        let name = line.name()?.map(str::to_owned);
        let outline = self.outline(line, &name.value)?;
        let because = line.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
        Some(Area { name, outline, because, span: line.span })
    }

    /// The shape in the clauses of a line: a rectangle, a circle or corners.
    pub(super) fn outline(&mut self, line: &Statement, name: &str) -> Option<Outline> {
        if let Some(corners) = line.clause("corners") {
            return self.points(&corners.args).map(Outline::Polygon);
        }
        if let (Some(round), Some(centre)) = (line.clause("round"), line.clause("centre")) {
            let across = self.one::<Length>(round.quantities().into_iter().next()?)?.mm();
            let centre = self.edges(centre, 0.0, 0.0)?;
            return Some(Outline::Circle { centre, across });
        }
        if let (Some(size), Some(place)) = (line.clause("size"), line.clause("place")) {
            let (width, height) = self.size(&size.args)?;
            let at = self.edges(place, width.mm(), height.mm())?;
            return Some(Outline::Rectangle { at, width: width.mm(), height: height.mm() });
        }
        self.findings.push(
            Finding::error("shape-incomplete", line.span, format!("the shape of `{name}` is not complete"))
                .help("write `from left 44 mm, top 44 mm  size 75 x 50 mm`")
                .help("or `round, 25 mm across, centre left 430 mm, top 260 mm`"),
        );
        None
    }

    pub(super) fn size(&mut self, args: &[Arg]) -> Option<(Quantity<Length>, Quantity<Length>)> {
        let (arg, width, height, units) = args.iter().find_map(|arg| match &arg.value {
            Value::Size(width, height, units) => Some((arg, width, height, units)),
            _ => None,
        })?;
        let both = format!("{} x {}", width.value, height.value);
        let last = self.unit(units.last()?, Some(crate::units::Dimension::Length), &both)?;
        let first = match units.as_slice() {
            [first, _] => self.unit(first, Some(crate::units::Dimension::Length), &width.value)?,
            _ => last,
        };
        let (width, height) = (self.number(width)?, self.number(height)?);
        let (width, height) =
            (AnyQuantity { value: width, unit: first }, AnyQuantity { value: height, unit: last });
        let (Some(wide), Some(high)) = (width.typed::<Length>(), height.typed::<Length>()) else {
            self.wrong_dimension(arg.span, height, crate::units::Dimension::Length);
            return None;
        };
        if self.is_too_much(arg.span, wide.any()) || self.is_too_much(arg.span, high.any()) {
            return None;
        }
        if wide.mm() <= 0.0 || high.mm() <= 0.0 {
            self.findings.push(
                Finding::error("value-out-of-range", arg.span, "a size of nothing holds nothing")
                    .help("write both lengths, as `166 x 116 mm`"),
            );
            return None;
        }
        Some((wide, high))
    }

    fn points(&mut self, args: &[Arg]) -> Option<Vec<Point>> {
        let (span, corners, unit) = args.iter().find_map(|arg| match &arg.value {
            Value::Points(corners, unit) => Some((arg.span, corners, unit)),
            _ => None,
        })?;
        let last = corners.last().map_or_else(String::new, |(x, y)| format!("{} x {}", x.value, y.value));
        let unit = self.unit(unit, Some(crate::units::Dimension::Length), &last)?;
        let mut points = Vec::new();
        for (x, y) in corners {
            let (x, y) = (self.number(x)?, self.number(y)?);
            let [x, y] = [x, y].map(|value| AnyQuantity { value, unit });
            if self.is_too_much(span, x) || self.is_too_much(span, y) {
                return None;
            }
            points.push(Point { x: x.base(), y: y.base() });
        }
        if points.len() < 3 {
            self.findings.push(
                Finding::error("shape-incomplete", span, "two corners make no area")
                    .help("write three corners or more"),
            );
            return None;
        }
        Some(points)
    }

    /// `left 44 mm, top 44 mm`: the top left corner of a shape of this size, whichever edges were named.
    pub(super) fn edges(&mut self, clause: &Clause, width: f64, height: f64) -> Option<Point> {
        let edges: Vec<String> = clause.words().iter().map(|&word| word.to_owned()).collect();
        let edges: Vec<&str> = edges.iter().map(String::as_str).filter(|word| EDGES.contains(word)).collect();
        let lengths = clause.quantities();
        let (mut x, mut y) = (None, None);
        for (edge, length) in edges.iter().zip(lengths) {
            let length = self.one::<Length>(length)?.mm();
            let from_far = |far: Option<Quantity<Length>>, own: f64| far.map(|far| far.mm() - own - length);
            match *edge {
                "left" => x = Some(length),
                "top" => y = Some(length),
                "right" => x = from_far(self.study.surface.width, width),
                _ => y = from_far(self.study.surface.height, height),
            }
        }
        if x.is_none() || y.is_none() {
            if self.study.surface.outline.is_some() {
                self.findings.push(
                    Finding::error(
                        "place-incomplete",
                        clause.span,
                        "a place needs one distance from left or right and one from top or bottom",
                    )
                    .help("write `from left 44 mm, top 44 mm`"),
                );
            }
            return None;
        }
        Some(Point { x: x?, y: y? })
    }

    fn benchmark(&mut self) {
        let Some(name) =
            self.block(BlockKind::Benchmark).and_then(|block| block.head.as_ref()).and_then(Args::name)
        else {
            return;
        };
        self.study.benchmark = self.bound_product(name);
    }
}

const EDGES: &[&str] = &["left", "right", "top", "bottom"];
