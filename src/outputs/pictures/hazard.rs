//! Hazard pictograms: a black symbol on white in a red square on its point (UN GHS, 1.4.10.4), drawn here.

use crate::markup::Xml;

// Symbols in a field of 100 by 100. `f` is filled black, `w` is filled white, a number is a black line
// of that width.
type Part = (&'static str, &'static str);

const BOMB: &[Part] = &[
    ("f", "M42 46a13 13 0 1 1 0 26a13 13 0 1 1 0-26z"),
    ("4", "M49 49c3-6 6-8 10-8M61 36l5-8M67 42l10-4M55 34l-2-10M68 50l8 4"),
];
const FLAME: &[Part] = &[
    ("f", "M51 20c2 9 17 16 17 33 0 9-7 16-18 16s-19-7-19-16c0-7 4-11 7-16 0 4 1 6 3 8 4-6 9-13 10-25z"),
    ("w", "M51 66c-6 0-10-4-10-9 0-5 4-7 6-12 3 4 6 5 7 9 1-2 2-3 2-5 3 3 5 5 5 9 0 5-4 8-10 8z"),
    ("f", "M33 72h34v4h-34z"),
];
const OXIDISER: &[Part] = &[
    ("f", "M51 17c1 6 11 11 11 22 0 5-4 9-11 9s-13-4-13-10c0-5 3-7 5-11 0 3 1 4 2 5 3-4 6-8 6-15z"),
    ("w", "M51 46c-4 0-6-2-6-5 0-3 2-4 3-7 2 2 4 3 4 5 1-1 2-2 2-3 2 2 3 3 3 5 0 3-2 5-6 5z"),
    ("4", "M50 47a12 12 0 1 1 0 24a12 12 0 1 1 0-24z"),
    ("f", "M36 74h28v4h-28z"),
];
const CYLINDER: &[Part] =
    &[("f", "M27 62l31-22c3-2 6-2 8 0l5-3 3 4-5 3c1 3 0 6-3 9L35 75c-3 2-7 1-9-2l-1-2c-2-3-1-7 2-9z")];
const CORROSION: &[Part] = &[
    ("3", "M24 41l17-8 3 6-17 8zM59 33l17 8-3 6-17-8z"),
    (
        "f",
        "M42 41l3 5a3 3 0 1 1-4 1zM46 51l3 4a3 3 0 1 1-4 1zM58 41l-3 5a3 3 0 1 0 4 1zM54 51l-3 4a3 3 0 1 0 4 1z",
    ),
    ("f", "M25 62h15l3 4 5-1 1-3v9h-24z"),
    ("f", "M53 65c4-1 6-4 10-4l2 4 4-3 7 1-5 8h-18z"),
];
const SKULL: &[Part] = &[
    ("5", "M31 56l38 16M69 56l-38 16"),
    (
        "f",
        "M31 51a4 4 0 1 1 0 8a4 4 0 1 1 0-8zM69 51a4 4 0 1 1 0 8a4 4 0 1 1 0-8zM31 68a4 4 0 1 1 0 8a4 4 0 1 1 0-8zM69 68a4 4 0 1 1 0 8a4 4 0 1 1 0-8z",
    ),
    ("f", "M50 18c11 0 18 7 18 16 0 6-3 10-7 13v9h-22v-9c-4-3-7-7-7-13 0-9 7-16 18-16z"),
    ("w", "M42 31a5 5 0 1 1 0 10a5 5 0 1 1 0-10z"),
    ("w", "M58 31a5 5 0 1 1 0 10a5 5 0 1 1 0-10z"),
    ("w", "M50 42l3 5h-6z"),
    ("w", "M44 50h2v6h-2zM49 50h2v6h-2zM54 50h2v6h-2z"),
];
const EXCLAMATION: &[Part] = &[
    ("f", "M50 20c5 0 7 3 6.5 8l-3 29h-7l-3-29c-.5-5 1.5-8 6.5-8z"),
    ("f", "M50 64a6.5 6.5 0 1 1 0 13a6.5 6.5 0 1 1 0-13z"),
];
const HEALTH: &[Part] = &[
    (
        "f",
        "M50 17a9 9 0 0 1 9 9c0 4-2 7-4 9v3l12 5c4 2 6 5 6 9v14l-13 14h-20l-13-14v-14c0-4 2-7 6-9l12-5v-3c-2-2-4-5-4-9a9 9 0 0 1 9-9z",
    ),
    ("w", "M50 40l4 9 9-3-3 9 9 4-9 4 3 9-9-3-4 9-4-9-9 3 3-9-9-4 9-4-3-9 9 3z"),
];
const ENVIRONMENT: &[Part] = &[
    ("3", "M18 60c14 6 26 4 32 9c6 4 12 6 17 5"),
    ("4", "M40 62V34M40 50l-9-8M40 45l8-8M40 38l-5-7M40 36l4-7"),
    ("f", "M54 58c6-8 16-9 22-3l6-5-1 12-7-3c-5 5-14 6-20-1z"),
    ("w", "M59 55.5a1.7 1.7 0 1 1 .1 0z"),
];

fn parts(code: &str) -> &'static [Part] {
    match code {
        "GHS01" => BOMB,
        "GHS02" => FLAME,
        "GHS03" => OXIDISER,
        "GHS04" => CYLINDER,
        "GHS05" => CORROSION,
        "GHS06" => SKULL,
        "GHS07" => EXCLAMATION,
        "GHS08" => HEALTH,
        "GHS09" => ENVIRONMENT,
        _ => &[],
    }
}

/// The pictograms of these codes as symbols that a page refers to by `#ghs02`.
pub(crate) fn symbols(codes: &[&str]) -> String {
    let mut xml = Xml::new();
    let hidden: crate::markup::Attributes<'_> =
        &[("width", &0), ("height", &0), ("class", &"symbols"), ("aria-hidden", &"true")];
    xml.element("svg", hidden, |xml| {
        for code in codes {
            let id = code.to_lowercase();
            xml.element("symbol", &[("id", &id), ("viewBox", &"0 0 100 100")], |xml| symbol(xml, code));
        }
    });
    xml.finish()
}

fn symbol(xml: &mut Xml, code: &str) {
    let frame: crate::markup::Attributes<'_> =
        &[("d", &"M50 4L96 50L50 96L4 50z"), ("class", &"hazard-frame"), ("stroke-width", &5)];
    xml.empty("path", frame);
    for (look, d) in parts(code) {
        match *look {
            "f" => xml.empty("path", &[("d", d), ("class", &"hazard-sign"), ("stroke-width", &0)]),
            "w" => xml.empty("path", &[("d", d), ("class", &"hazard-gap"), ("stroke-width", &0)]),
            width => xml.empty("path", &[("d", d), ("class", &"hazard-line"), ("stroke-width", &width)]),
        }
    }
}

/// One pictogram that refers to its symbol.
pub(crate) fn refer(code: &str, name: &str) -> String {
    let mut xml = Xml::new();
    let (address, label) = (format!("#{}", code.to_lowercase()), format!("{code}, {name}"));
    xml.element("svg", &[("viewBox", &"0 0 100 100"), ("role", &"img"), ("aria-label", &label)], |xml| {
        xml.leaf("title", &[], &label);
        xml.empty("use", &[("href", &address)]);
    });
    xml.finish()
}

#[cfg(test)]
mod tests {
    use super::parts;

    #[test]
    fn every_pictogram_of_the_system_is_drawn() {
        assert!((1..=9).all(|n| !parts(&format!("GHS0{n}")).is_empty()));
    }
}
