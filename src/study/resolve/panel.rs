//! The panel and its sections: places from any edge become mm from the top left, the drawing becomes sections.

use super::{Resolver, TREATMENTS, same_name};
use crate::diag::{Finding, nearest};
use crate::study::{Area, Grid, Outline, Point, Section, Treatment};
use crate::syntax::{Arg, Args, BlockKind, Clause, Clauses, Statement, Value};
use crate::text::{Located, Span};
use crate::units::{AnyQuantity, Length, Quantity, Range};

/// The thickest film that is taken for one, mm; a slip from um to mm is larger. Common practice, no source.
const THICKEST_FILM_MM: f64 = 10.0;

impl Resolver<'_> {
    pub(super) fn panel(&mut self) {
        self.surface();
        self.benchmark();
        self.map();
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
        let sized = block.children.iter().any(|line| line.verb == "size" || line.verb == "corners");
        if !sized && !block.broken {
            self.findings.push(
                Finding::error("surface-without-size", block.span, "the surface has no size")
                    .help("write `size 880 x 580 mm` under it"),
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
    fn outline(&mut self, line: &Statement, name: &str) -> Option<Outline> {
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
        let last = self.unit(units.last()?, Some(crate::units::Dimension::Length))?;
        let first = match units.as_slice() {
            [first, _] => self.unit(first, Some(crate::units::Dimension::Length))?,
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
        let unit = self.unit(unit, Some(crate::units::Dimension::Length))?;
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
    fn edges(&mut self, clause: &Clause, width: f64, height: f64) -> Option<Point> {
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

    fn map(&mut self) {
        let Some(block) = self.block(BlockKind::Map) else { return };
        self.study.map_broken = block.broken || self.twice.contains(&BlockKind::Map);
        let rows: Vec<&Statement> = block.children.iter().filter(|line| line.verb == "|").collect();
        let places: Vec<Vec<Located<&str>>> = rows.iter().map(|row| row.names()).collect();
        let counts: Vec<usize> = places.iter().map(Vec::len).collect();
        let grid = block.head.as_ref().and_then(|head| self.grid(head, &counts));
        let at = grid.as_ref().and_then(|grid| self.corner(block.head.as_ref(), grid));
        for (row, places) in places.iter().enumerate() {
            for (column, &word) in places.iter().enumerate() {
                self.place(word, (row, column), grid.as_ref().zip(at));
            }
        }
        self.study.grid = grid;
        for line in block.children.iter().filter(|line| line.verb == "section") {
            self.named_section(line);
        }
        if self.study.sections.is_empty() && !self.study.map_broken {
            self.findings.push(
                Finding::error("map-empty", block.span, "the map has no sections")
                    .help("draw rows such as `| thyme  bare  clove |` under it"),
            );
        }
    }

    fn grid(&mut self, head: &Statement, counts: &[usize]) -> Option<Grid> {
        if counts.is_empty() {
            return None;
        }
        let Some(sections) = head.clause("sections") else {
            self.findings.push(
                Finding::error("map-without-size", head.span, "the map does not say how large a section is")
                    .help("write `map sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm`"),
            );
            return None;
        };
        let (width, height) = self.size(&sections.args)?;
        let written = head.clause("gap").and_then(|clause| clause.quantities().into_iter().next());
        let gap = written.and_then(|gap| self.one::<Length>(gap));
        // A gap that could not be taken is not a gap of nothing.
        if written.is_some() && gap.is_none() {
            return None;
        }
        if gap.is_none() {
            self.assume("The sections of the map touch each other: no gap was given.".to_owned());
        }
        Some(Grid { width, height, gap, places: counts.to_vec(), span: head.span })
    }

    /// The top left corner of the drawing on the panel.
    fn corner(&mut self, head: Option<&Statement>, grid: &Grid) -> Option<Point> {
        let gap = grid.gap.map_or(0.0, Quantity::mm);
        let across = |count: usize, own: f64| count as f64 * own + count.saturating_sub(1) as f64 * gap;
        let width = across(grid.usual_places(), grid.width.mm());
        let height = across(grid.places.len(), grid.height.mm());
        if let Some(place) = head.and_then(|head| head.clause("place")) {
            return self.edges(place, width, height);
        }
        self.assume("The map lies in the middle of the surface: no place was given.".to_owned());
        let (panel_width, panel_height) = (self.study.surface.width?, self.study.surface.height?);
        Some(Point { x: (panel_width.mm() - width) / 2.0, y: (panel_height.mm() - height) / 2.0 })
    }

    fn place(&mut self, word: Located<&str>, (row, column): (usize, usize), grid: Option<(&Grid, Point)>) {
        if word.value == "." {
            return;
        }
        if word.value == "?" {
            self.findings.push(
                Finding::error(
                    "not-yet",
                    word.span,
                    "a section without a product is planned and not yet built",
                )
                .help("write the product of every section, or `.` where there is none"),
            );
        }
        let outline = grid.map(|(grid, at)| {
            let (width, height) = (grid.width.mm(), grid.height.mm());
            let gap = grid.gap.map_or(0.0, Quantity::mm);
            let x = at.x + column as f64 * (width + gap);
            let y = at.y + row as f64 * (height + gap);
            Outline::Rectangle { at: Point { x, y }, width, height }
        });
        let code = format!("{}{}", row_letters(row), column + 1);
        let treatment = self.treatment(word);
        self.study.sections.push(Section {
            code,
            treatment,
            specimen: None,
            row: Some(row),
            column: Some(column),
            outline,
            span: word.span,
        });
    }

    fn treatment(&mut self, word: Located<&str>) -> Treatment {
        match word.value.to_lowercase().as_str() {
            "bare" => return Treatment::Bare,
            "carrier-only" | "carrier" => return Treatment::CarrierOnly,
            "untouched" => return Treatment::Untouched,
            "?" => return Treatment::Unknown,
            _ => {}
        }
        if let Some(id) = self.product_id(word.value) {
            return Treatment::Product(id);
        }
        let control = ["control", "untreated", "blank"].contains(&word.value.to_lowercase().as_str());
        let known: Vec<&str> =
            self.study.products.iter().map(|product| product.name.value.as_str()).collect();
        let near =
            nearest(word.value, known.into_iter().chain(TREATMENTS.iter().copied())).map(str::to_owned);
        let help = match near {
            _ if control => "a section that is prepared and left is called `bare`".to_owned(),
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("define it: `product {}`", word.value),
        };
        self.tell(
            Finding::error("undefined-name", word.span, format!("no product is called `{}`", word.value))
                .help(help),
        );
        Treatment::Unknown
    }

    fn named_section(&mut self, line: &Statement) {
        let names = line.names();
        let &[name, of] = names.as_slice() else { return };
        if let Some(first) = self.study.sections.iter().find(|section| same_name(&section.code, name.value)) {
            let first: Span = first.span;
            self.findings.push(
                Finding::error("duplicate-name", name.span, format!("section `{}` stands twice", name.value))
                    .related(first, "first here")
                    .help("give one of them another name"),
            );
            return;
        }
        let outline = self.outline(line, name.value);
        let treatment = self.treatment(of);
        let code = name.value.to_owned();
        self.study.sections.push(Section {
            code,
            treatment,
            specimen: None,
            row: None,
            column: None,
            outline,
            span: line.span,
        });
    }
}

const EDGES: &[&str] = &["left", "right", "top", "bottom"];

/// `A` to `Z`, then `AA` and so on.
fn row_letters(row: usize) -> String {
    let letter = |n: usize| char::from(b'A' + u8::try_from(n % 26).unwrap_or(0));
    match row / 26 {
        0 => letter(row).to_string(),
        above => format!("{}{}", row_letters(above - 1), letter(row)),
    }
}

#[cfg(test)]
mod tests {
    use super::row_letters;

    #[test]
    fn rows_past_the_alphabet_take_two_letters() {
        assert_eq!(row_letters(0), "A");
        assert_eq!(row_letters(25), "Z");
        assert_eq!(row_letters(26), "AA");
        assert_eq!(row_letters(27 * 26), "AAA");
    }
}
