//! The cost of random plans, found again with a millimetre rule: at the middle of every millimetre of the boat look
//! up which pieces lie there, and add up what the model says of them. Slow and plain, and written from docs/model.md
//! alone.
#![allow(clippy::unwrap_used)]

use crate::common;

use common::naive::{Habit, plan};
use common::{Size, random_job};
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Drift, Kind, PanelId, Shade, Side};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Piece, Plan, Want};
use twinstrake::stock::StripId;
use twinstrake::units::{S, X, delta_e};

/// A millimetre of boat, in metres.
const MM: f64 = 0.001;

fn colour_step(job: &Job, a: StripId, b: StripId) -> f64 {
    delta_e(job.stock.strip(a).colour, job.stock.strip(b).colour)
}

/// Board and seq; a stray is a board of its own.
fn origin(job: &Job, strip: StripId) -> (String, i64) {
    match job.stock.strip(strip).origin {
        Some(origin) => (format!("board {}", origin.board.0), i64::from(origin.seq)),
        None => (format!("stray {}", strip.0), 1),
    }
}

/// The piece whose nominal ends hold this place. At a joint the nominal end is half a scarf short of the piece's own.
fn piece_at<'p>(job: &Job, plan: &'p Plan, id: CourseId, side: Side, x: X) -> Option<&'p Piece> {
    let course = job.hull.course(id);
    if x <= course.from || course.to <= x {
        return None;
    }
    let s = course.s_at(x);
    let half = job.rules.half_scarf();
    let here = plan
        .pieces
        .iter()
        .filter(|p| p.course == id && p.side == side);
    here.filter(|p| p.number == 1 || p.from + half <= s)
        .max_by_key(|p| p.number)
}

fn shows(job: &Job, id: CourseId, x: X) -> f64 {
    let course = job.hull.course(id);
    let mut weight = job.hull.panel_of(id).look;
    for show in &job.hull.show {
        let courses = show.zone.courses.unwrap_or((1, u32::MAX));
        let over = show.zone.panel == course.panel
            && courses.0 <= course.number
            && course.number <= courses.1;
        if over && show.zone.from <= x && x <= show.zone.to {
            weight *= show.times;
        }
    }
    weight
}

fn figure_step(job: &Job, p: &Piece, q: &Piece) -> f64 {
    let w = job.weights;
    let ((p_board, p_seq), (q_board, q_seq)) = (origin(job, p.strip), origin(job, q.strip));
    if p_board != q_board {
        return w.board;
    }
    let register = |piece: &Piece| {
        let tip = job.hull.course(piece.course).x_at(piece.from).mm();
        match piece.bow_end {
            BowEnd::Mark => tip - piece.cut_from.mm(),
            BowEnd::Plain => tip + piece.cut_to.mm(),
        }
    };
    let shift = if p.bow_end == q.bow_end {
        (register(p) - register(q)).abs()
    } else {
        1000.0
    };
    let skipped = ((p_seq - q_seq).abs() - 2).max(0) as f64;
    w.board.min(w.skip * skipped) + w.shift * (shift / 1000.0).min(1.0)
}

fn foster(job: &Job, a: StripId, b: StripId) -> f64 {
    let w = job.weights;
    let ((a_board, a_seq), (b_board, b_seq)) = (origin(job, a), origin(job, b));
    if job.stock.strip(a).sister == Some(b) {
        0.0
    } else if a_board == b_board {
        w.foster.min(w.skip * ((a_seq - b_seq).abs() - 1) as f64)
    } else {
        w.foster
    }
}

/// Seam and match, millimetre by millimetre.
fn sampled(job: &Job, plan: &Plan) -> (f64, f64) {
    let (mut seam, mut matching) = (0.0, 0.0);
    let end = job
        .hull
        .courses
        .iter()
        .map(|course| course.to.mm())
        .fold(0.0, f64::max);
    for millimetre in 0..end as usize {
        let x = X::from_mm(millimetre as f64 + 0.5);
        for (id, course) in job.hull.courses() {
            let at = |id, side| piece_at(job, plan, id, side, x);
            if let (Some(a), Some(b)) = (at(id, Side::Port), at(id, Side::Starboard)) {
                let step = colour_step(job, a.strip, b.strip) + foster(job, a.strip, b.strip);
                matching += shows(job, id, x) * step * MM;
            }
            let below = CourseId(id.0 + 1);
            let Some(next) = job.hull.courses.get(below.0) else {
                continue;
            };
            if next.panel != course.panel {
                continue;
            }
            let weight = 0.5 * (shows(job, id, x) + shows(job, below, x));
            let both_centre = course.kind == Kind::Centre && next.kind == Kind::Centre;
            for side in [Side::Port, Side::Starboard] {
                let on = |id, kind| {
                    at(
                        id,
                        if kind == Kind::Centre {
                            Side::Centre
                        } else {
                            side
                        },
                    )
                };
                if both_centre && side == Side::Starboard {
                    continue;
                }
                if let (Some(p), Some(q)) = (on(id, course.kind), on(below, next.kind)) {
                    let colour = shown(job, id, below, colour_step(job, p.strip, q.strip));
                    let step = colour + figure_step(job, p, q);
                    seam += weight * step * MM;
                }
            }
        }
    }
    (seam, matching)
}

/// Shade that goes the wrong way, millimetre by millimetre.
fn sampled_drift(job: &Job, plan: &Plan) -> f64 {
    let stands_out = |panel, number| {
        let mut accents = job.wants.iter().filter(|want| want.accent.is_some());
        accents.any(|want| {
            let (first, last) = want.courses.unwrap_or((1, u32::MAX));
            want.panel == panel && first <= number && number <= last
        })
    };
    let mut drift = 0.0;
    for (upper, one) in job.hull.courses() {
        let Some(wanted) = job.hull.panel(one.panel).drift else {
            continue;
        };
        if stands_out(one.panel, one.number) {
            continue;
        }
        // The next of the panel that is no accent.
        let mut below = job
            .hull
            .courses()
            .filter(|(id, c)| id.0 > upper.0 && c.panel == one.panel);
        let Some((lower, other)) = below.find(|(_, c)| !stands_out(c.panel, c.number)) else {
            continue;
        };
        let on_centre = |kind| kind == Kind::Centre;
        let meetings: &[Side] = match on_centre(one.kind) && on_centre(other.kind) {
            true => &[Side::Port],
            false => &[Side::Port, Side::Starboard],
        };
        for millimetre in 0..one.to.mm().min(other.to.mm()) as usize {
            let x = X::from_mm(millimetre as f64 + 0.5);
            for side in meetings {
                let on = |kind| if on_centre(kind) { Side::Centre } else { *side };
                let here = piece_at(job, plan, upper, on(one.kind), x);
                let there = piece_at(job, plan, lower, on(other.kind), x);
                if let (Some(p), Some(q)) = (here, there) {
                    let l = |piece: &Piece| job.stock.strip(piece.strip).colour.l;
                    let wrong_way = match wanted.shade {
                        Shade::Darker => l(q) - l(p),
                        Shade::Lighter => l(p) - l(q),
                    };
                    let weight = 0.5 * (shows(job, upper, x) + shows(job, lower, x));
                    drift += weight * wanted.against * wrong_way.max(0.0) * MM;
                }
            }
        }
    }
    drift
}

/// The colour part of a seam: how far it falls short of what is welcome at the edge of an accent, else the step.
fn shown(job: &Job, upper: CourseId, lower: CourseId, step: f64) -> f64 {
    let (one, other) = (job.hull.course(upper), job.hull.course(lower));
    let edges = job
        .wants
        .iter()
        .filter(|want| want.covers(one) != want.covers(other));
    match edges
        .filter_map(|want| want.accent)
        .fold(None, |most: Option<f64>, a| {
            Some(most.map_or(a, |m| m.max(a)))
        }) {
        Some(accent) => (accent - step).max(0.0),
        None => step,
    }
}

fn joints(job: &Job, plan: &Plan) -> f64 {
    let half = job.rules.half_scarf();
    let mut cost = 0.0;
    for aft in plan.pieces.iter().filter(|piece| piece.number > 1) {
        let at: S = aft.from + half;
        let course = job.hull.course(aft.course);
        let same_run = |p: &&Piece| p.course == aft.course && p.side == aft.side;
        let mut run = plan.pieces.iter().filter(same_run);
        let fore = run.find(|p| p.number + 1 == aft.number).unwrap();
        let step = colour_step(job, fore.strip, aft.strip);
        let share = if course.kind == Kind::Centre {
            1.0
        } else {
            0.5
        };
        cost += share * shows(job, aft.course, course.x_at(at)) * (job.weights.joint + step);
    }
    cost
}

/// The second course of every panel is a line that stands out, of any wood, and every panel is to go darker: so that
/// shade is compared across a line.
fn with_lines(mut job: Job) -> Job {
    for (i, panel) in job.hull.panels.iter_mut().enumerate() {
        let shade = Shade::Darker;
        panel.drift = panel.drift.or(Some(Drift {
            shade,
            against: 1.0,
        }));
        job.wants.push(Want {
            name: format!("line {i}"),
            panel: PanelId(i),
            courses: Some((2, 2)),
            wood: None,
            boards: Vec::new(),
            strips: job
                .stock
                .strips
                .iter()
                .map(|strip| strip.name.clone())
                .collect(),
            keep: false,
            accent: Some(7.0),
            port: None,
        });
    }
    job
}

#[test]
fn a_millimetre_rule_finds_the_same_cost() {
    let (mut seen, mut drifted, mut across) = (0.0, 0.0, 0);
    for seed in 0..25 {
        let mut job = random_job(seed, Size::Small);
        if seed % 2 == 1 {
            job = with_lines(job);
        }
        let plan = plan(&job, Habit::ManyJoints);
        let cost = check(&job, &plan).cost;
        let (seam, matching) = sampled(&job, &plan);
        // Where pieces or zones change within a millimetre, that one may be told wrongly: a few dozen of several
        // thousand.
        let near = |exact: f64, found: f64| (exact - found).abs() < 0.05 + 0.002 * exact;
        assert!(
            near(cost.seam, seam),
            "seed {seed}: seam {} and {seam}",
            cost.seam
        );
        assert!(
            near(cost.matching, matching),
            "seed {seed}: match {} and {matching}",
            cost.matching
        );
        let drift = sampled_drift(&job, &plan);
        assert!(
            near(cost.drift, drift),
            "seed {seed}: drift {} and {drift}",
            cost.drift
        );
        drifted += cost.drift;
        let laid = |panel: usize, number: u32| {
            let there = |piece: &Piece| {
                let course = job.hull.course(piece.course);
                course.panel == PanelId(panel) && course.number == number
            };
            plan.pieces.iter().any(there)
        };
        let panels = 0..job.hull.panels.len();
        across += panels
            .filter(|panel| seed % 2 == 1 && laid(*panel, 1) && laid(*panel, 3))
            .count();
        let by_joint = joints(&job, &plan);
        assert!(
            (cost.joint - by_joint).abs() < 1e-9,
            "seed {seed}: {} and {by_joint}",
            cost.joint
        );
        seen += cost.total();
    }
    assert!(seen > 100.0, "hardly anything was laid");
    assert!(drifted > 5.0, "hardly any shade went the wrong way");
    assert!(across > 2, "hardly any shade was compared across a line");
}
