//! Scenes as the pages of a PDF, at their true size.
//!
//! Each page is first the same SVG text that [`super::svg`] writes, so that nothing is drawn twice; the typeface is
//! embedded, and words stay words that can be searched and copied.

use super::misprint::Misprint;
use super::scene::Scene;
use super::svg::{self, Ground};
use super::typeface;
use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};
use rayon::prelude::*;
use resvg::usvg::{Options, Tree};

const FORMAT: &str = "PDF";

/// So many pages are drawn side by side.
const BATCH: usize = 16;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// The scenes as a PDF, a page each, titled as the first. The paper's colour is left out: whoever prints brings paper
/// of their own. The same scenes give the same bytes.
///
/// Errors: a library refused, which is a bug.
pub fn write(pages: &[Scene]) -> Result<Vec<u8>, Misprint> {
    let mut pdf = Pdf::new(pages.first().map(|page| page.title.as_str()));
    for batch in pages.chunks(BATCH) {
        pdf.draw(batch)?;
    }
    pdf.finish()
}

/// A PDF that is put together page by page, for pages too many to be held side by side.
pub struct Pdf {
    document: Document,
    waiting: Vec<Scene>,
}

impl Pdf {
    /// Without a page yet.
    pub fn new(title: Option<&str>) -> Pdf {
        let mut document = Document::new_with(SerializeSettings::default());
        if let Some(title) = title {
            let told = Metadata::new()
                .title(title.to_owned())
                .creator("twinstrake".into())
                .language("en".into());
            document.set_metadata(told);
        }
        Pdf {
            document,
            waiting: Vec::new(),
        }
    }

    /// Adds a page.
    ///
    /// Errors: as for [`write()`].
    pub fn add(&mut self, page: Scene) -> Result<(), Misprint> {
        self.waiting.push(page);
        if self.waiting.len() < BATCH {
            return Ok(());
        }
        let batch = std::mem::take(&mut self.waiting);
        self.draw(&batch)
    }

    /// The bytes of the file.
    ///
    /// Errors: as for [`write()`].
    pub fn finish(mut self) -> Result<Vec<u8>, Misprint> {
        let rest = std::mem::take(&mut self.waiting);
        self.draw(&rest)?;
        let bytes = self.document.finish();
        bytes.map_err(|error| Misprint::new(FORMAT, error))
    }

    fn draw(&mut self, pages: &[Scene]) -> Result<(), Misprint> {
        let trees: Vec<Tree> = pages
            .par_iter()
            .map(|page| tree(page, Ground::Bare, FORMAT))
            .collect::<Result<_, _>>()?;
        for (page, tree) in pages.iter().zip(&trees) {
            let (w, h) = (page.width * POINTS, page.height * POINTS);
            let size = Size::from_wh(w as f32, h as f32);
            let size =
                size.ok_or_else(|| Misprint::new(FORMAT, format!("a page of {w} x {h} points")))?;
            let mut sheet = self.document.start_page_with(PageSettings::new(size));
            let mut surface = sheet.surface();
            surface
                .draw_svg(tree, size, SvgSettings::default())
                .ok_or_else(|| Misprint::new(FORMAT, "the page could not be drawn"))?;
            surface.finish();
            sheet.finish();
        }
        Ok(())
    }
}

/// The scene as the tree that both back ends draw from.
pub(super) fn tree(scene: &Scene, ground: Ground, format: &'static str) -> Result<Tree, Misprint> {
    let options = Options {
        font_family: typeface::FAMILY.into(),
        fontdb: typeface::shelf(),
        ..Options::default()
    };
    Tree::from_str(&svg::document(scene, ground), &options)
        .map_err(|error| Misprint::new(format, error))
}
