//! The job made dense and indexed for the search. Immutable: nothing in it knows what has been decided.
//!
//! Lengths here are whole nanometres (`i64`) along strips and skin, and millimetres (`f64`) along the boat, because
//! the first are compared exactly and the second are only integrated over.

use super::profile::Profile;
use crate::hull::{Course, Kind, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Edges, Face, Facing, next_edge_sign};
use crate::stock::{Stock, StripId};
use crate::units::{Length, S, delta_e};

/// Stands for "no strip": the far side of a centre course.
pub const NONE: u32 = u32::MAX;

/// A strip as the search sees it.
#[derive(Clone, Debug)]
pub struct Wood {
    /// Board; a stray has one of its own.
    pub board: u32,
    /// Place in the board; 0 for a stray.
    pub seq: i64,
    /// Stretches free of defects, in order. Unit: nm from the marked end.
    pub clear: Vec<(i64, i64)>,
}

/// A course as the search sees it.
#[derive(Clone, Debug)]
pub struct Row {
    /// Whether it is laid on both sides.
    pub mirrored: bool,
    /// Its length on the skin. Unit: nm.
    pub length: i64,
    /// Allowances at bow and stern. Unit: nm.
    pub allow: [i64; 2],
    /// The neighbour toward the start line.
    pub before: Option<usize>,
    /// The neighbour toward the stop line.
    pub after: Option<usize>,
    /// Other courses of the panel whose joints must keep clear of this one's.
    pub near: Vec<usize>,
    /// Where a joint may lie, by zones and shortest piece alone. Unit: nm of skin. Empty where no joint is allowed.
    pub joint_windows: Vec<(i64, i64)>,
    /// Weight of what shows along the course.
    pub look: Profile,
    /// Weight along the seam to the neighbour after it, over the stretch where both lie.
    pub seam: Option<Profile>,
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
    /// Where a place on the skin lies on the boat. Unit: nm to mm.
    pub fn x(&self, s: i64) -> f64 {
        self.course.x_at(S::at(Length::from_nm(s))).mm()
    }

    /// Where a place on the boat lies on the skin. Unit: mm to nm.
    pub fn s(&self, x: f64) -> i64 {
        self.course.s_at(crate::units::X::from_mm(x)).nm()
    }

    /// Weight of what shows at one place of the course. Unit of `x`: mm along the boat.
    pub fn weight(&self, x: f64) -> f64 {
        let shown = self
            .shows
            .iter()
            .filter(|(from, to, _)| *from <= x && x <= *to);
        self.panel_look * shown.map(|(_, _, times)| times).product::<f64>()
    }

    /// Length of strip needed to lay the course in one piece. Unit: nm.
    pub fn one_piece(&self) -> i64 {
        self.length + self.allow[0] + self.allow[1]
    }
}

/// The whole problem.
#[derive(Clone, Debug)]
pub struct Problem {
    /// Strips, by [`StripId`].
    pub woods: Vec<Wood>,
    /// Courses, by [`crate::hull::CourseId`].
    pub rows: Vec<Row>,
    /// Half a scarf. Unit: nm.
    pub half_scarf: i64,
    /// Least distance between joints of near courses. Unit: mm.
    pub clear: f64,
    /// Least nominal length of a piece. Unit: nm.
    pub shortest: i64,
    /// Most joints in a course.
    pub most: usize,
    /// Lost at a cross-cut. Unit: nm.
    pub saw: i64,
    /// The weights of the cost.
    pub weights: crate::plan::Weights,
    /// Pairs of one board, those that lay close first; `mates[a]` lists the partners of a.
    pub mates: Vec<Vec<u32>>,
    /// For each strip, the others that would look best beside it on one side, best first.
    pub alike: Vec<Vec<u32>>,
    differences: Vec<f64>,
    sisters: Vec<u32>,
}

/// How many strips [`Problem::alike`] lists for each. Too few, and the search can't reach good plans but by luck; too
/// many, and it tries hopeless ones.
const ALIKE: usize = 32;

impl Problem {
    /// The problem that a job sets.
    pub fn new(job: &Job) -> Problem {
        let colour = |strip: usize| job.stock.strips[strip].colour;
        Problem::with_differences(job, |a, b| delta_e(colour(a), colour(b)))
    }

    /// The same with colour differences of the caller's own, which must be symmetric: lets a problem with a known
    /// answer from outside be set in the planner's terms.
    pub fn with_differences(job: &Job, difference: impl Fn(usize, usize) -> f64) -> Problem {
        let n = job.stock.strips.len();
        let mut differences = vec![0.0; n * n];
        for a in 0..n {
            for b in 0..a {
                let d = difference(a, b);
                differences[a * n + b] = d;
                differences[b * n + a] = d;
            }
        }
        let woods = woods(&job.stock);
        let rows = rows(job);
        let rules = &job.rules;
        let mut problem = Problem {
            mates: mates(&job.stock, &woods),
            sisters: named_sisters(&job.stock),
            woods,
            rows,
            half_scarf: rules.half_scarf().nm(),
            clear: rules.joints.clear.mm(),
            shortest: rules.joints.shortest_piece.nm(),
            most: rules.joints.most as usize,
            saw: rules.allow.saw.nm(),
            weights: job.weights,
            alike: Vec::new(),
            differences,
        };
        problem.alike = (0..n as u32).map(|a| problem.best_beside(a)).collect();
        problem
    }

    /// The same problem with so many pairs of sisters more, all of one length and as like in colour as one could wish.
    ///
    /// Their strips follow the others, two by two. Unit of `length`: nm.
    pub fn with_more_pairs(&self, pairs: usize, length: i64) -> Problem {
        let (was, now) = (self.woods.len(), self.woods.len() + 2 * pairs);
        let mut more = self.clone();
        let first_board = self
            .woods
            .iter()
            .map(|wood| wood.board + 1)
            .max()
            .unwrap_or(0);
        for i in 0..2 * pairs {
            let board = first_board + (i / 2) as u32;
            more.woods.push(Wood {
                board,
                seq: (i % 2) as i64 + 1,
                clear: vec![(0, length)],
            });
            more.mates.push(vec![(was + (i ^ 1)) as u32]);
            more.alike.push(Vec::new());
            more.sisters.push(NONE);
        }
        more.differences = vec![0.0; now * now];
        for a in 0..was {
            more.differences[a * now..a * now + was]
                .copy_from_slice(&self.differences[a * was..(a + 1) * was]);
        }
        more
    }

    fn best_beside(&self, a: u32) -> Vec<u32> {
        let mut others: Vec<u32> = (0..self.woods.len() as u32)
            .filter(|&b| b != a && !self.woods[b as usize].clear.is_empty())
            .collect();
        let by_rate = |x: &u32, y: &u32| {
            self.seam_rate(a, *x)
                .total_cmp(&self.seam_rate(a, *y))
                .then(x.cmp(y))
        };
        if others.len() > ALIKE {
            others.select_nth_unstable_by(ALIKE, by_rate);
            others.truncate(ALIKE);
        }
        others.sort_by(by_rate);
        others
    }

    /// Colour difference of two strips. Unit: ΔE00.
    #[inline]
    pub fn difference(&self, a: u32, b: u32) -> f64 {
        self.differences[a as usize * self.woods.len() + b as usize]
    }

    /// What a metre of seam between pieces of two strips costs at weight 1, register aside.
    #[inline]
    pub fn seam_rate(&self, a: u32, b: u32) -> f64 {
        let (one, other) = (&self.woods[a as usize], &self.woods[b as usize]);
        let w = &self.weights;
        let step = if one.board == other.board {
            w.board
                .min(w.skip * ((one.seq - other.seq).abs() - 2).max(0) as f64)
        } else {
            w.board
        };
        self.difference(a, b) + step
    }

    /// Whether two strips come from one board.
    #[inline]
    pub fn one_board(&self, a: u32, b: u32) -> bool {
        self.woods[a as usize].board == self.woods[b as usize].board
    }

    /// What a metre of two mates facing each other across the boat costs at weight 1.
    pub fn match_rate(&self, a: u32, b: u32) -> f64 {
        let w = &self.weights;
        let foster = if !self.one_board(a, b) {
            w.foster
        } else if self.sisters[a as usize] == b || self.sisters[b as usize] == a {
            0.0
        } else {
            let apart = (self.woods[a as usize].seq - self.woods[b as usize].seq).abs();
            w.foster.min(w.skip * (apart - 1) as f64)
        };
        self.difference(a, b) + foster
    }

    /// The face that the port strip of a pair shows: in a pair of one board the lower seq shows its high face.
    pub fn port_face(&self, port: u32, starboard: u32) -> Face {
        let (p, s) = (&self.woods[port as usize], &self.woods[starboard as usize]);
        if p.seq < s.seq { Face::High } else { Face::Low }
    }

    /// The ends that may point to the bow when this wood goes on this course: both, or the one that the edges dictate.
    pub fn bow_ends(&self, row: usize, wood: [u32; 2]) -> &'static [BowEnd] {
        match self.rows[row].locked {
            Some(locked) if wood[1] != NONE && self.one_board(wood[0], wood[1]) => {
                let end = match self.port_face(wood[0], wood[1]) {
                    Face::High => locked[0],
                    Face::Low => locked[1],
                };
                match end {
                    BowEnd::Mark => &[BowEnd::Mark],
                    BowEnd::Plain => &[BowEnd::Plain],
                }
            }
            _ => &[BowEnd::Mark, BowEnd::Plain],
        }
    }
}

fn woods(stock: &Stock) -> Vec<Wood> {
    let strays = stock.boards.len() as u32;
    let wood = |(i, strip): (usize, &crate::stock::Strip)| {
        let mut clear = Vec::new();
        let mut from = 0;
        for defect in &strip.defects {
            if defect.from.nm() > from {
                clear.push((from, defect.from.nm()));
            }
            from = from.max(defect.to.nm());
        }
        if strip.length.nm() > from {
            clear.push((from, strip.length.nm()));
        }
        if strip.cull {
            clear.clear();
        }
        Wood {
            board: strip.origin.map_or(strays + i as u32, |o| o.board.0 as u32),
            seq: strip.origin.map_or(0, |o| i64::from(o.seq)),
            clear,
        }
    };
    stock.strips.iter().enumerate().map(wood).collect()
}

fn named_sisters(stock: &Stock) -> Vec<u32> {
    stock
        .strips
        .iter()
        .map(|s| s.sister.map_or(NONE, |id| id.0 as u32))
        .collect()
}

/// For each strip, the others of its board, sisters first and then by distance in the board.
fn mates(stock: &Stock, woods: &[Wood]) -> Vec<Vec<u32>> {
    let mut by_board: std::collections::BTreeMap<u32, Vec<u32>> = std::collections::BTreeMap::new();
    for (i, wood) in woods.iter().enumerate() {
        by_board.entry(wood.board).or_default().push(i as u32);
    }
    (0..woods.len() as u32)
        .map(|a| {
            let mut list: Vec<u32> = by_board[&woods[a as usize].board]
                .iter()
                .copied()
                .filter(|&b| b != a)
                .collect();
            list.sort_by_key(|&b| {
                let sisters = stock.are_sisters(StripId(a as usize), StripId(b as usize));
                (
                    !sisters,
                    (woods[a as usize].seq - woods[b as usize].seq).abs(),
                    b,
                )
            });
            list
        })
        .collect()
}

fn rows(job: &Job) -> Vec<Row> {
    let mut rows: Vec<Row> = (0..job.hull.courses.len()).map(|i| row(job, i)).collect();
    for i in 0..rows.len() {
        rows[i].look = look(&[&rows[i]]);
        rows[i].seam = rows[i].after.map(|j| look(&[&rows[i], &rows[j]]));
    }
    rows
}

fn row(job: &Job, i: usize) -> Row {
    let courses = &job.hull.courses;
    let course = &courses[i];
    let neighbour = |by: i64| {
        courses.iter().position(|other| {
            other.panel == course.panel && i64::from(other.number) == i64::from(course.number) + by
        })
    };
    let shows = job.hull.show.iter().filter(|show| show.zone.covers(course));
    Row {
        mirrored: course.kind == Kind::Mirrored,
        length: course.length.nm(),
        allow: [
            job.rules.allowance(course.bow_end).nm(),
            job.rules.allowance(course.stern_end).nm(),
        ],
        before: neighbour(-1),
        after: neighbour(1),
        near: near(job, i),
        joint_windows: joint_windows(job, course),
        look: Profile::new(0.0, 0.0, &[], |_| 0.0),
        seam: None,
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
fn joint_windows(job: &Job, course: &Course) -> Vec<(i64, i64)> {
    let rules = &job.rules;
    if rules.joints.most == 0 || course.length < rules.joints.shortest_piece {
        return Vec::new();
    }
    let shortest = rules.joints.shortest_piece.nm().max(1);
    let half = rules.half_scarf().nm();
    let mut windows = vec![(shortest, course.length.nm() - shortest)];
    for zone in job
        .hull
        .keep_clear
        .iter()
        .filter(|zone| zone.covers(course))
    {
        let from = course.s_at(zone.from).nm() - half;
        let to = course.s_at(zone.to).nm() + half;
        windows = windows
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(from)), (a.max(to), b)])
            .filter(|(a, b)| a <= b)
            .collect();
    }
    windows.retain(|(a, b)| a <= b);
    windows
}
