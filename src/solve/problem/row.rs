//! Courses as the search sees them.

use super::{Charge, Profile, Span};
use crate::hull::{Course, Kind, Side, Stretch};
use crate::job::Job;
use crate::plan::{BowEnd, Edges, Face, Facing, next_edge_sign};
use crate::units::{Length, S, X};
use smallvec::SmallVec;

/// Two courses that lie side by side, or have only an accent band between them.
#[derive(Clone, Debug)]
pub struct Seam {
    /// The one nearer the start line.
    pub upper: usize,
    /// The one nearer the stop line.
    pub lower: usize,
    /// Weight along the seam, over the stretch where both lie.
    pub look: Profile,
    /// What is charged along it.
    pub charge: Charge,
}

impl Seam {
    /// The course on the other side of the seam.
    pub fn beside(&self, row: usize) -> usize {
        if row == self.upper {
            self.lower
        } else {
            self.upper
        }
    }
}

/// A course as the search sees it.
#[derive(Clone, Debug)]
pub struct Row {
    /// Whether it is laid on both sides.
    pub mirrored: bool,
    /// Its length on the skin.
    pub length: Length,
    /// Allowances at bow and stern.
    pub allow: [Length; 2],
    /// The neighbour toward the start line; the foremost, where there are several.
    pub before: Option<usize>,
    /// The neighbour toward the stop line; the foremost, where there are several.
    pub after: Option<usize>,
    /// Its seams in [`super::Problem::seams`], from the start line on.
    pub seams: SmallVec<[usize; 2]>,
    /// Other courses of the panel whose joints must keep clear of this one's.
    pub near: Vec<usize>,
    /// Where a joint may lie, by zones and shortest piece alone. Empty where no joint is allowed.
    pub joint_windows: Vec<Span>,
    /// Weight of what shows along the course.
    pub look: Profile,
    /// Where looks are weighted: forward edge, after edge (mm along the boat) and times. The edges belong to the zone.
    shows: Vec<(f64, f64, f64)>,
    /// The panel's own weight.
    panel_look: f64,
    /// Which end points to the bow when the strip on port shows its high face, and when it shows its low face, where
    /// the shape of the edges leaves no choice.
    pub locked: Option<[BowEnd; 2]>,
    course: Course,
}

impl Row {
    /// Where a place on the skin lies on the boat. Unit: mm.
    pub fn x(&self, s: Length) -> f64 {
        self.course.x_at(S::at(s)).mm()
    }

    /// Where a place on the boat lies on the skin. Unit of `x`: mm.
    pub fn s(&self, x: f64) -> Length {
        self.course.s_at(X::from_mm(x)).from_origin()
    }

    /// How many sides it lies on.
    pub fn sides(&self) -> usize {
        if self.mirrored { 2 } else { 1 }
    }

    /// Whether a joint may lie at a place on the skin, other courses aside.
    pub fn allows_joint(&self, s: Length) -> bool {
        self.joint_windows.iter().any(|(a, b)| *a <= s && s <= *b)
    }

    /// Weight of what shows at one place of the course. Unit of `x`: mm along the boat.
    pub fn weight(&self, x: f64) -> f64 {
        let shown = self
            .shows
            .iter()
            .filter(|(from, to, _)| *from <= x && x <= *to);
        self.panel_look * shown.map(|(_, _, times)| times).product::<f64>()
    }

    /// The least weight of what shows where a joint may lie; nothing where none may.
    pub fn least_at_joint(&self) -> Option<f64> {
        // Zones change the weight at their ends alone: between two of them it is the same everywhere.
        let windows = self.joint_windows.iter();
        let windows = windows.map(|&(a, b)| (self.x(a), self.x(b)));
        let weights = windows.flat_map(|(a, b)| {
            let within = self.shows.iter().flat_map(|&(from, to, _)| [from, to]);
            let mut ends: Vec<f64> = within.filter(|x| a < *x && *x < b).collect();
            ends.extend([a, b]);
            ends.sort_by(f64::total_cmp);
            let middles = ends.windows(2).map(|two| 0.5 * (two[0] + two[1]));
            let all: Vec<f64> = middles.chain(ends.iter().copied()).collect();
            all.into_iter().map(|x| self.weight(x))
        });
        weights.min_by(f64::total_cmp)
    }

    /// Length of strip needed to lay the course in one piece.
    pub fn one_piece(&self) -> Length {
        self.length + self.allow[0] + self.allow[1]
    }
}

/// Every course of the job, and every seam between two of them.
pub fn rows(job: &Job) -> (Vec<Row>, Vec<Seam>) {
    let mut rows: Vec<Row> = (0..job.hull.courses.len()).map(|i| row(job, i)).collect();
    for row in &mut rows {
        row.look = look(&[row]);
    }
    let mut seams = Vec::new();
    for upper in 0..rows.len() {
        for lower in 0..rows.len() {
            let (one, other) = (&job.hull.courses[upper], &job.hull.courses[lower]);
            // Stretches that lie one behind the other share no seam.
            let abreast = one.from < other.to && other.from < one.to;
            let whole = one.stretch == Stretch::Whole && other.stretch == Stretch::Whole;
            let touch = one.lies_before(other);
            if touch && !(abreast || whole) {
                continue;
            }
            let Some(charge) = Charge::between(job, one, other) else {
                continue;
            };
            rows[upper].seams.push(seams.len());
            rows[lower].seams.push(seams.len());
            if touch {
                rows[upper].after.get_or_insert(lower);
                rows[lower].before.get_or_insert(upper);
            }
            seams.push(Seam {
                upper,
                lower,
                look: look(&[&rows[upper], &rows[lower]]),
                charge,
            });
        }
    }
    (rows, seams)
}

fn row(job: &Job, i: usize) -> Row {
    let courses = &job.hull.courses;
    let course = &courses[i];
    let shows = job.hull.show.iter().filter(|show| show.zone.covers(course));
    Row {
        mirrored: course.kind == Kind::Mirrored,
        length: course.length,
        allow: [
            job.rules.allowance(course.bow_end),
            job.rules.allowance(course.stern_end),
        ],
        before: None,
        after: None,
        seams: SmallVec::new(),
        near: near(job, i),
        joint_windows: joint_windows(job, course),
        look: Profile::new(0.0, 0.0, &[], |_| 0.0),
        shows: shows
            .map(|show| (show.zone.from.mm(), show.zone.to.mm(), show.times))
            .collect(),
        panel_look: job.hull.panel(course.panel).look,
        locked: locked(job, course),
        course: course.clone(),
    }
}

/// The mean weight of one course, or of two over the stretch where both lie.
fn look(rows: &[&Row]) -> Profile {
    let from = rows
        .iter()
        .map(|row| row.course.from.mm())
        .fold(f64::NEG_INFINITY, f64::max);
    let to = rows
        .iter()
        .map(|row| row.course.to.mm())
        .fold(f64::INFINITY, f64::min);
    let breaks: Vec<f64> = rows
        .iter()
        .flat_map(|row| &row.shows)
        .flat_map(|show| [show.0, show.1])
        .collect();
    Profile::new(from, to, &breaks, |x| {
        rows.iter().map(|row| row.weight(x)).sum::<f64>() / rows.len() as f64
    })
}

fn near(job: &Job, i: usize) -> Vec<usize> {
    let courses = &job.hull.courses;
    (0..courses.len())
        .filter(|&j| {
            j != i
                && courses[j].panel == courses[i].panel
                && courses[j].number.abs_diff(courses[i].number) <= job.rules.joints.clear_courses
        })
        .collect()
}

fn locked(job: &Job, course: &Course) -> Option<[BowEnd; 2]> {
    let Edges::BeadAndCove { next_edge } = job.rules.edges else {
        return None;
    };
    let toward = job.hull.panel(course.panel).toward;
    // Only to be read on a mirrored course: there port and its mate agree, so port alone decides.
    debug_assert_eq!(
        next_edge_sign(Side::Port, toward),
        -next_edge_sign(Side::Starboard, toward)
    );
    let end = |face_out| {
        let mark = Facing {
            bow_end: BowEnd::Mark,
            face_out,
        };
        if mark.next_edge(Side::Port, toward) == next_edge {
            BowEnd::Mark
        } else {
            BowEnd::Plain
        }
    };
    Some([end(Face::High), end(Face::Low)])
}

/// Where the centre of a scarf may lie on a course, other courses aside. Source: model, rules 5 and 7.
fn joint_windows(job: &Job, course: &Course) -> Vec<Span> {
    let rules = &job.rules;
    if rules.joints.most == 0 || course.length < rules.joints.shortest_piece {
        return Vec::new();
    }
    let shortest = rules.joints.shortest_piece.max(Length::NM);
    let half = rules.half_scarf();
    let mut windows = vec![(shortest, course.length - shortest)];
    for zone in job
        .hull
        .keep_clear
        .iter()
        .filter(|zone| zone.covers(course))
    {
        let from = course.s_at(zone.from).from_origin() - half;
        let to = course.s_at(zone.to).from_origin() + half;
        windows = windows
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(from)), (a.max(to), b)])
            .filter(|(a, b)| a <= b)
            .collect();
    }
    windows.retain(|(a, b)| a <= b);
    windows
}
