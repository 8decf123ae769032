//! A picture as PNG, drawn from its SVG with the one font that the tool brings along: no font of the machine changes a byte.

use super::fault::Fault;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};
use std::sync::Arc;

/// The weights of the font, cut down to the letters of Latin, Greek and Cyrillic and the signs of the pages.
const FONT: [&[u8]; 2] = [
    include_bytes!("../../templates/font/Inter-Regular.otf"),
    include_bytes!("../../templates/font/Inter-SemiBold.otf"),
];
/// Its name.
const FAMILY: &str = "Inter";

/// Draws pictures; the font is read once.
pub(super) struct Painter {
    options: Options<'static>,
}

impl Painter {
    /// With the font for every family that a picture may name.
    pub(super) fn new() -> Self {
        let mut fonts = Database::new();
        for weight in FONT {
            fonts.load_font_data(weight.to_vec());
        }
        fonts.set_sans_serif_family(FAMILY);
        fonts.set_serif_family(FAMILY);
        fonts.set_monospace_family(FAMILY);
        let options =
            Options { font_family: FAMILY.to_owned(), fontdb: Arc::new(fonts), ..Options::default() };
        Self { options }
    }

    /// The picture, as many pixels wide and high as it says.
    pub(super) fn paint(&self, svg: &str) -> Result<Vec<u8>, Fault> {
        let fault = |error: &dyn std::fmt::Display| Fault::new(format!("a picture cannot be drawn: {error}"));
        let tree = Tree::from_str(svg, &self.options).map_err(|error| fault(&error))?;
        let size = tree.size().to_int_size();
        let mut pixels =
            Pixmap::new(size.width(), size.height()).ok_or_else(|| fault(&"it has no extent"))?;
        resvg::render(&tree, Transform::identity(), &mut pixels.as_mut());
        pixels.encode_png().map_err(|error| fault(&error))
    }
}
