//! Words by which grounds, cautions and gear are known: compounds of German and English as people write them, and words that only look so.

use super::catalog;

fn ground(text: &str) -> Option<&'static str> {
    catalog().ground(text).map(|ground| ground.id)
}

#[test]
fn grounds_are_known_by_compounds() {
    for (ground_id, texts) in [
        (
            "masonry",
            &[
                "Ziegelmauerwerk, Fugen aus Kalkzementmörtel",
                "Mauerwerk aus Ziegel",
                "Kalksandsteinmauerwerk",
                "Kalksandstein",
                "Ziegelsteine",
                "Betonplatten",
                "Stahlbeton, geschliffen",
                "Gehwegplatten",
                "Fassadenputz",
                "verputzte Wand",
                "Natursteinmauer",
                "Dachziegel, gebrannt",
                "Schieferplatten",
                "Faserzementplatten",
                "Bodenfliesen, unglasiert",
                "ZIEGELMAUERWERK",
                "Moertelfuge und Klinkersteine",
                "brickwork",
                "stonework",
                "blockwork",
                "concrete slabs",
                "paving slabs",
                "rendered wall",
                "fibre cement",
            ][..],
        ),
        (
            "wood",
            &[
                "Eichenholzbretter",
                "Holzdielen",
                "Lärchenbretter",
                "Laerchenbretter",
                "Fichtenholz, gehobelt",
                "Terrassendielen",
                "Hartholz",
                "Kiefernbohlen",
                "Sperrholzplatte",
                "oak boards",
                "hardwood decking",
                "larch cladding",
            ],
        ),
        ("oiled wood", &["Eichenholz, geölt", "geölte Lärche", "Leinöl auf Eiche", "oiled oak"]),
        (
            "paint",
            &[
                "Pulverlackierung auf Stahl",
                "lackiertes Holz",
                "Holz, gestrichen",
                "Dispersionsfarbe auf Kalkputz",
                "Holzschutzlasur auf Fichte",
                "Decklack, schwarz",
                "black enamel on steel",
            ],
        ),
        ("gelcoat", &["GFK mit Feinschicht", "Glasfaserlaminat", "bare fibreglass"]),
        ("plastic", &["Kunststoff, schwarz", "Stoßfänger", "Acrylglas", "black plastic"]),
        ("glass", &["Fensterglas", "Isolierglasscheibe aus Isolierglas", "glass"]),
        (
            "bare metal",
            &["Edelstahlblech", "Stahlblech, blank", "Aluminiumblech", "Kupferblech", "bare iron"],
        ),
        ("fabric", &["Markisenstoff", "Baumwollstoffe", "Segeltuch", "Rindsleder", "canvas"]),
    ] {
        for text in texts {
            assert_eq!(ground(text), Some(ground_id), "{text}");
        }
    }
}

/// A colour that is called after a material, what only ends or begins like one, and what is left as it is.
#[test]
fn words_that_look_like_a_ground_are_none() {
    for text in [
        "Muster 7, ziegelrot",
        "Platte, betongrau",
        "schieferfarben",
        "Holzoptik",
        "Holzkohle",
        "Bernstein",
        "betont schlicht",
        "Schild, black",
        "Muster Brotzeit",
        "glatte Fläche mit glatten Kanten",
        "unlackiert, unbeschichtet",
        "Steinmetzarbeit",
        "reptile skin",
        "sample 7",
        "",
    ] {
        assert_eq!(ground(text), None, "{text}");
    }
    assert_eq!(ground("Kunststoff"), Some("plastic"), "no fabric");
    assert_eq!(ground("textile"), Some("fabric"), "no tile");
    assert_eq!(ground("unlackierte Fichte"), Some("wood"), "no paint");
    assert_eq!(ground("plastic, black"), Some("plastic"), "no lacquer");
}

#[test]
fn what_attacks_a_bare_material_is_known_by_its_german_words() {
    let surface = |text: &str| catalog().surface_in(text).map(|surface| surface.id);
    for (text, known) in [
        ("Kalksandsteinmauerwerk", "stone"),
        ("Lärchenbretter", "wood"),
        ("Edelstahlblech", "stainless"),
        ("Stahlblech", "steel"),
        ("Aluminiumblech", "aluminium"),
        ("Acrylglas", "plastic"),
        ("stonework", "stone"),
    ] {
        assert_eq!(surface(text), Some(known), "{text}");
    }
}

fn speaks(id: &str, text: &str) -> bool {
    catalog().speaks_of(id, text)
}

#[test]
fn cautions_are_known_by_german_compounds_and_by_more_english_words() {
    for (id, texts) in [
        (
            "mist",
            &[
                "Niederdrucksprüher, 0.5 bar, Flachstrahldüse",
                "Spritzpistole",
                "Sprühgerät",
                "Handsprühflasche",
                "Drucksprüher",
                "Zerstäuber",
                "Vernebler",
                "Sprühdose",
                "aufgesprüht",
                "pump spray bottle",
                "trigger bottle",
                "low-pressure sprayer",
            ][..],
        ),
        ("mist-filter", &["Niederdrucksprüher", "Spritzpistole", "trigger bottle"]),
        (
            "roof-edge",
            &[
                "Flachdach der Scheune",
                "Dach der Scheune",
                "Scheunendach",
                "Dachterrasse",
                "Rand des Flachdachs",
                "auf Dächern",
                "roof of the barn",
                "rooftop",
            ],
        ),
        (
            "height",
            &[
                "Flachdach",
                "Leiter",
                "Anlegeleiter",
                "Gerüst an der Giebelwand",
                "Baugerüst",
                "vom Hubsteiger",
                "Hebebühne",
                "Arbeitsbühne",
                "rooftop",
                "stepladder",
                "cherry picker",
            ],
        ),
    ] {
        for text in texts {
            assert!(speaks(id, text), "{id}: {text}");
        }
    }
}

#[test]
fn other_cautions_are_known_so_as_well() {
    for (id, texts) in [
        (
            "over-water",
            &[
                "Bootssteg am Weiher",
                "Steg am See",
                "Seeufer",
                "Uferweg",
                "Ponton im Hafenbecken",
                "Kaimauer",
                "lakeside boathouse",
                "riverside",
                "old docks",
            ][..],
        ),
        ("compressed-air", &["Druckluft", "Kompressor", "Druckluftpistole", "ausblasen", "compressed air"]),
        (
            "machine",
            &["Exzenterschleifer", "Winkelschleifer", "Poliermaschine", "Deltaschleifer", "orbital sander"],
        ),
        (
            "pressure-washer",
            &["pressure washer", "Hochdruckreiniger", "Dampfstrahler", "high pressure washer"],
        ),
        ("hot-air", &["hot air gun", "hot-air gun", "Heißluftföhn", "Heißluftpistole", "heat gun"]),
        ("uv-lamp", &["UV-Lampe", "Schwarzlicht", "uv torch"]),
        (
            "dust",
            &["mit Körnung 180 anschleifen", "Zwischenschliff", "rub down with 180 grit", "Schleifvlies"],
        ),
        ("spray-can", &["Sprühdose", "spray can"]),
    ] {
        for text in texts {
            assert!(speaks(id, text), "{id}: {text}");
        }
    }
}

#[test]
fn words_that_look_like_a_danger_raise_no_caution() {
    for (id, texts) in [
        ("roof-edge", &["Dachs", "Obdach", "Verdacht", "Dachau", "roofing felt supplier"][..]),
        ("height", &["Projektleiter", "Halbleiter", "Leiterplatte", "Grundgerüst", "Dachs"]),
        ("over-water", &["Stegosaurus", "Läufer", "Verkäufer", "Seefahrer", "Flughafen", "Hafer", "Kaiser"]),
        (
            "mist",
            &[
                "10-ml-Spritze",
                "Spritzwasserschutz",
                "Sprühregen im Oktober",
                "salt spray of the sea",
                "press",
            ],
        ),
        ("compressed-air", &["Presse", "Luftfeuchte"]),
        ("machine", &["Schleifklotz von Hand", "Scherenschleifer"]),
        ("dust", &["Schleife", "Schleifkontakt", "Sandkorn"]),
        ("hot-air", &["hot water", "air"]),
        ("pressure-washer", &["air pressure", "washer"]),
    ] {
        for text in texts {
            assert!(!speaks(id, text), "{id}: {text}");
        }
    }
}

#[test]
fn protection_is_known_by_its_german_words_and_what_needs_a_card_is_none() {
    let gear = |text: &str| catalog().gear_named(text).map(|gear| gear.id);
    for (text, known) in [
        ("FFP3-Maske", "filter-mask"),
        ("Halbmaske mit Filter A2-P2", "filter-mask"),
        ("Nitrilhandschuhe", "gloves"),
        ("Korbbrille", "eyes"),
        ("Kapselgehörschutz", "hearing"),
        ("Feuerlöscher", "rescue"),
        ("half mask", "filter-mask"),
    ] {
        assert_eq!(gear(text), Some(known), "{text}");
    }
    for text in ["Handschuhcreme", "Brillenreiniger", "Schutzlack", "glove spray", "Maske"] {
        assert_eq!(gear(text), None, "{text}");
    }
}

/// What is not written so would match nothing, without a word.
#[test]
fn patterns_are_written_as_texts_are_read() {
    let c = catalog();
    let grounds = c.grounds().iter().flat_map(|own| [&own.words, &own.german, &own.not]);
    let cautions = c.cautions().iter().flat_map(|own| [&own.words, &own.german, &own.not]);
    let gear = c.gear().iter().map(|own| &own.phrases);
    let surfaces = c.surfaces().iter().map(|own| &own.german);
    let all: Vec<&str> = grounds.chain(cautions).chain(gear).chain(surfaces).flatten().copied().collect();
    assert!(all.len() > 600, "{}", all.len());
    for pattern in all {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == ' ';
        let inner = pattern.strip_prefix('*').unwrap_or(pattern);
        let inner = inner.strip_suffix('*').unwrap_or(inner);
        assert!(inner.len() > 1 && inner.chars().all(plain), "{pattern}");
        assert!(pattern == inner || inner.len() > 2, "{pattern} would stand in too many words");
    }
}

#[test]
fn a_ground_that_is_not_known_asks_for_the_strictest_mask() {
    let mask = catalog().unknown_dust_mask().expect("a mask");
    assert!(mask.starts_with("FFP3 mask or P3 filter"));
}
