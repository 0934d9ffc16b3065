//! The wood alone, in true proportion, as the finished hull would look: nothing written on it.

use super::fit::{cut_off, width};
use super::grain::{self, Streak};
use super::photographed::{self, Photographs};
use super::pieces::{Tip, of_course, stroke, tips};
use super::scene::{
    Group, Item, Line, Outline, Photograph, Point, Rect, Scene, Set, Shape, Text, Weight,
};
use super::skin::{Edge, Half, Skin};
use super::thin::thinned;
use super::{ink, words};
use crate::check::Verdict;
use crate::hull::{CourseId, Side};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::units::{Colour, X, counted};

/// An A3 page on its side. Unit: millimetre of paper, as everywhere here.
const PAGE: (f64, f64) = (420.0, 297.0);
const MARGIN: f64 = 22.0;
/// Room for the name of the boat below.
const FOOT: f64 = 46.0;
/// Points nearer than this to the line through their neighbours are left out.
const FINE: f64 = 0.012;
/// Streaks on strips drawn narrower than this would be dirt.
const NARROWEST_FIGURED: f64 = 0.45;

/// The scene of the wood, with photographs of it where there are such.
pub fn scene(
    job: &Job,
    plan: &Plan,
    verdict: &Verdict,
    photographs: Option<&Photographs>,
) -> Scene {
    let skin = Skin::of(job);
    let paper = Paper::of(&skin);
    let mut items = Vec::new();
    for (id, course) in job.hull.courses() {
        for side in course.sides() {
            if of_course(plan, id, *side).is_empty() {
                let halves = skin.halves(id, *side).iter();
                items.extend(halves.map(|half| OnSkin::new(&skin, &paper, id, *half).open(*side)));
            }
        }
    }
    let (mut inside, mut over) = (Vec::new(), Vec::new());
    lying(job, plan, &skin, &paper, |on, piece, tips| {
        items.push(on.piece(job, plan, piece, tips));
        let seen = photographs.map_or_else(Vec::new, |all| {
            photographed::seen(on, job, piece, tips, all)
        });
        if !seen.is_empty() {
            inside.extend(seen);
            over.push(Shape::drawn(on.outline(tips), on.glue(job, piece)));
            over.extend(on.done(job, piece, tips));
        }
    });
    if let Some(all) = photographs.filter(|_| !inside.is_empty()) {
        let picture = Photograph {
            area: hull(job),
            jpeg: all.jpeg.clone(),
            inside,
        };
        over.insert(0, Item::Photograph(picture));
        items.push(Group::of("photographed", over).into());
    }
    let told = photographs.map(|all| all.told(plan));
    items.push(foot(job, plan, verdict, &paper, told));
    Scene {
        title: format!("The wood of {}", job.name),
        width: PAGE.0,
        height: PAGE.1,
        paper: ink::PAPER,
        items,
    }
}

/// Where the hull is on the page, with a hair of paper around it.
pub fn hull(job: &Job) -> Rect {
    let skin = Skin::of(job);
    let paper = Paper::of(&skin);
    let (left, top) = paper.point((skin.ends.0, -skin.half));
    let (right, bottom) = paper.point((skin.ends.1, skin.half));
    let hair = 0.5;
    Rect::between(left - hair, top - hair, right + hair, bottom + hair)
}

/// Calls with every piece where it lies, course by course, and between which tips.
pub(super) fn lying(
    job: &Job,
    plan: &Plan,
    skin: &Skin,
    paper: &Paper,
    mut each: impl FnMut(&OnSkin<'_>, &Piece, (Tip, Tip)),
) {
    for (id, course) in job.hull.courses() {
        for side in course.sides() {
            let pieces = of_course(plan, id, *side);
            for half in skin.halves(id, *side) {
                let on = OnSkin::new(skin, paper, id, *half);
                let mut tips = tips(job, course, &pieces, X::mm);
                let (fore, aft) = skin.reach(id, *half);
                if let [first, .., last] = tips.as_mut_slice() {
                    (*first, *last) = ((fore, fore), (aft, aft));
                }
                for (piece, tips) in pieces.iter().zip(tips.windows(2)) {
                    each(&on, piece, (tips[0], tips[1]));
                }
            }
        }
    }
}

/// How the skin lies on the page.
pub(super) struct Paper {
    scale: f64,
    left: f64,
    bow: f64,
    keel: f64,
}

impl Paper {
    /// As large as the page allows, in its middle.
    pub(super) fn of(skin: &Skin) -> Paper {
        let long = (skin.ends.1 - skin.ends.0).max(1.0);
        let (wide, tall) = (PAGE.0 - 2.0 * MARGIN, PAGE.1 - FOOT - 2.0 * MARGIN);
        let scale = (wide / long).min(tall / (2.0 * skin.half).max(1.0));
        Paper {
            scale,
            left: (PAGE.0 - scale * long) / 2.0,
            bow: skin.ends.0,
            keel: MARGIN + tall / 2.0,
        }
    }

    fn point(&self, (x, y): Point) -> Point {
        (
            self.left + (x - self.bow) * self.scale,
            self.keel + y * self.scale,
        )
    }

    /// The place of the boat at a point: along it, and from the keel line.
    pub(super) fn place(&self, (x, y): Point) -> Point {
        (
            self.bow + (x - self.left) / self.scale,
            (y - self.keel) / self.scale,
        )
    }
}

/// A course on one half of the picture.
pub(super) struct OnSkin<'a> {
    skin: &'a Skin,
    pub(super) paper: &'a Paper,
    course: CourseId,
    pub(super) half: Half,
}

impl<'a> OnSkin<'a> {
    fn new(skin: &'a Skin, paper: &'a Paper, course: CourseId, half: Half) -> OnSkin<'a> {
        OnSkin {
            skin,
            paper,
            course,
            half,
        }
    }

    pub(super) fn offset(&self, edge: Edge, x: f64) -> f64 {
        self.skin.offset(self.course, self.half, edge, x)
    }

    fn edge(&self, edge: Edge, (from, to): Tip) -> Vec<Point> {
        let places = self.skin.soundings(from, to.max(from));
        let points = places.into_iter().map(|x| (x, self.offset(edge, x)));
        points.map(|point| self.paper.point(point)).collect()
    }

    /// The outline between two tips: scarfs lean from the far to the near edge, as in the drawing of the planking.
    fn outline(&self, tips: (Tip, Tip)) -> Outline {
        Outline::Closed(self.corners(tips))
    }

    /// The points of that outline.
    pub(super) fn corners(&self, (fore, aft): (Tip, Tip)) -> Vec<Point> {
        let mut points = thinned(&self.edge(Edge::Far, (fore.0, aft.0)), FINE);
        let mut near = thinned(&self.edge(Edge::Near, (fore.1, aft.1)), FINE);
        near.reverse();
        points.append(&mut near);
        points
    }

    fn open(&self, side: Side) -> Item {
        let (bow, stern) = self.skin.reach(self.course, self.half);
        let outline = self.outline(((bow, bow), (stern, stern)));
        let line = Line::whole(ink::FAINT, 0.12);
        Item::Group(Group {
            facts: vec![("side", side.name().into())],
            ..Group::of("open", vec![Shape::outlined(outline, ink::CHALK, line)])
        })
    }

    fn piece(&self, job: &Job, plan: &Plan, piece: &Piece, tips: (Tip, Tip)) -> Item {
        let strip = job.stock.strip(piece.strip);
        let colour = strip.colour;
        let mut items = vec![Shape::outlined(
            self.outline(tips),
            ink::of_wood(colour),
            self.glue(job, piece),
        )];
        if job.rules.width.mm() * self.paper.scale >= NARROWEST_FIGURED {
            let figure = ink::of_wood(darker(colour, 3.5));
            for streak in grain::streaks(&job.stock, strip) {
                let slivers = self.slivers(job, piece, tips, &streak);
                items.extend(slivers.into_iter().map(|s| Shape::filled(s, figure)));
            }
        }
        items.extend(self.done(job, piece, tips));
        Item::Group(Group {
            kind: "piece",
            facts: vec![
                ("side", piece.side.name().into()),
                ("strip", strip.name.clone()),
            ],
            told: Some(words::told(job, order(plan, piece), piece)),
            items,
        })
    }

    /// A hair of the same wood closes what two edges side by side would leave open; the glue line is a shade darker.
    fn glue(&self, job: &Job, piece: &Piece) -> Line {
        let colour = job.stock.strip(piece.strip).colour;
        Line::whole(ink::of_wood(darker(colour, 7.0)), 0.09)
    }

    /// What shows that a piece is cut or laid, along its near edge and nothing else: here nothing is written on the
    /// wood.
    fn done(&self, job: &Job, piece: &Piece, (fore, aft): (Tip, Tip)) -> Vec<Item> {
        let Some(stroke) = stroke(job.stage(piece)) else {
            return Vec::new();
        };
        let edge = self.edge(Edge::Near, (fore.1, aft.1));
        let colour = job.stock.strip(piece.strip).colour;
        let line = Line {
            ink: ink::readable_on(ink::of_wood(colour)),
            width: 0.25,
            stroke,
        };
        let straight = |two: &[Point]| Shape::drawn(Outline::Straight(two[0], two[1]), line);
        edge.windows(2).map(straight).collect()
    }

    /// A streak as thin areas, one for each stretch where it lies on the piece.
    fn slivers(
        &self,
        job: &Job,
        piece: &Piece,
        (fore, aft): (Tip, Tip),
        streak: &Streak,
    ) -> Vec<Outline> {
        let course = job.hull.course(piece.course);
        let (a, b) = photographed::edges(job, piece, self.half);
        let (from, to) = (fore.1, aft.0);
        let steps = ((to - from) / grain::STEP).ceil().max(1.0) as usize;
        let mut slivers = Vec::new();
        let mut sides: (Vec<Point>, Vec<Point>) = Default::default();
        for n in 0..=steps {
            let x = from + (to - from) * n as f64 / steps as f64;
            let here = streak.at(piece.u_at(course.s_at(X::from_mm(x))).mm());
            // Of a course drawn in halves each has those streaks that lie on it.
            let here = here
                .map(|(across, thick)| ((across - a) / (b - a), thick / (b - a).abs() / 2.0))
                .filter(|(near, half)| *near > *half && *near < 1.0 - half);
            match here {
                Some((near, half)) => {
                    let (y0, y1) = (self.offset(Edge::Near, x), self.offset(Edge::Far, x));
                    let at = |part: f64| self.paper.point((x, y0 + (y1 - y0) * part));
                    sides.0.push(at(near - half));
                    sides.1.push(at(near + half));
                }
                None => slivers.extend(sliver(&mut sides)),
            }
        }
        slivers.extend(sliver(&mut sides));
        slivers
    }
}

fn sliver((one, other): &mut (Vec<Point>, Vec<Point>)) -> Option<Outline> {
    let (mut points, mut back) = (thinned(one, FINE), thinned(other, FINE));
    let enough = one.len() > 1;
    one.clear();
    other.clear();
    back.reverse();
    points.append(&mut back);
    enough.then_some(Outline::Closed(points))
}

pub(super) fn darker(colour: Colour, by: f64) -> Colour {
    Colour::lab((colour.l - by).max(0.0), colour.a, colour.b)
}

fn order(plan: &Plan, piece: &Piece) -> usize {
    let at = plan.pieces.iter().position(|p| std::ptr::eq(p, piece));
    at.map_or(0, |at| at + 1)
}

/// The name of the boat and what is seen, under the hull.
fn foot(
    job: &Job,
    plan: &Plan,
    verdict: &Verdict,
    paper: &Paper,
    photographed: Option<String>,
) -> Item {
    let (left, right) = (MARGIN, PAGE.0 - MARGIN);
    let base = PAGE.1 - MARGIN - 9.0;
    let strips = format!(
        "{} of {}, {}",
        counted(verdict.strips_cut, "strip"),
        counted(boards(job, plan), "board"),
        counted(verdict.joints, "joint")
    );
    let room = right - left - width(&strips, 3.0, Weight::Plain) - 8.0;
    let name = cut_off(&job.name, 9.0, Weight::Bold, room);
    let scale = 1.0 / paper.scale.max(1e-9);
    let told = format!(
        "The skin of both sides laid flat along the keel, seen from below, bow to the left, 1 : {scale:.0}. The \
        colours are \
         those of strips.csv; the figure is drawn freely, and runs on, mirrors and breaks where the wood's own will."
    );
    let rule = Outline::Straight((left, base + 4.0), (right, base + 4.0));
    let mut items = vec![
        Text::new(name, (left, base), 9.0, ink::PENCIL)
            .bold()
            .into(),
        Text::new(strips, (right, base), 3.0, ink::SOFT)
            .set(Set::Right)
            .into(),
        Shape::drawn(rule, Line::whole(ink::FAINT, 0.3)),
        Text::new(told, (left, base + 9.0), 2.6, ink::SOFT).into(),
    ];
    let photographed =
        photographed.map(|words| Text::new(words, (left, base + 13.0), 2.6, ink::SOFT));
    items.extend(photographed.map(Item::from));
    Item::Group(Group::of("foot", items))
}

/// How many boards the plan takes strips from; a stray counts as one.
fn boards(job: &Job, plan: &Plan) -> usize {
    let mut all: Vec<(Option<usize>, Option<usize>)> = plan
        .pieces
        .iter()
        .map(|piece| match job.stock.strip(piece.strip).origin {
            Some(origin) => (Some(origin.board.0), None),
            None => (None, Some(piece.strip.0)),
        })
        .collect();
    all.sort_unstable();
    all.dedup();
    all.len()
}
