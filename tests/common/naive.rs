//! A plain planner: course by course, the first wood that fits, and no thought for looks. Every plan it makes keeps
//! every rule; what it can't cover it leaves out.

use twinstrake::hull::{Course, CourseId, Kind, Side};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Piece, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{Length, S, U};

use super::bench::{Cut, complete, lay_course, spans};

/// What the planner tries first.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Habit {
    /// As few joints as the wood allows.
    FewJoints,
    /// As many joints as the rules allow.
    ManyJoints,
}

/// How many ways to place the joints of one course are tried before it is left out.
const TRIES: usize = 60;

/// Lays what can be laid.
pub fn plan(job: &Job, habit: Habit) -> Plan {
    let mut pieces = Vec::new();
    for (id, _) in job.hull.courses() {
        if let Some(rows) = course(job, &pieces, id, habit) {
            pieces.extend(rows);
        }
    }
    complete(job, pieces)
}

fn course(job: &Job, laid: &[Piece], id: CourseId, habit: Habit) -> Option<Vec<Piece>> {
    let most = job.rules.joints.most as usize;
    let mut counts: Vec<usize> = (0..=most).collect();
    if habit == Habit::ManyJoints {
        counts.reverse();
    }
    counts.into_iter().find_map(|count| {
        let mut sets = Vec::new();
        joint_sets(job, laid, id, count, &mut Vec::new(), &mut sets);
        sets.iter()
            .find_map(|joints| with_joints(job, laid, id, joints))
    })
}

/// Ways to place so many joints, on a coarse grid, each way allowed by rules 5, 6 and 7.
fn joint_sets(
    job: &Job,
    laid: &[Piece],
    id: CourseId,
    count: usize,
    so_far: &mut Vec<S>,
    sets: &mut Vec<Vec<S>>,
) {
    let course = job.hull.course(id);
    let shortest = job.rules.joints.shortest_piece;
    let after = so_far.last().copied().unwrap_or(S::ORIGIN);
    let room = S::at(course.length) - after;
    if sets.len() >= TRIES {
        return;
    }
    if so_far.len() == count {
        if count == 0 || room >= shortest {
            sets.push(so_far.clone());
        }
        return;
    }
    let step = Length::from_mm(70.0).max(course.length * (1.0 / 30.0));
    let mut at = after + shortest;
    while S::at(course.length) - at >= shortest {
        if joint_allowed(job, laid, id, at) {
            so_far.push(at);
            joint_sets(job, laid, id, count, so_far, sets);
            so_far.pop();
        }
        at = at + step;
    }
}

/// Whether a joint may lie here: rules 5 and 6.
fn joint_allowed(job: &Job, laid: &[Piece], id: CourseId, at: S) -> bool {
    let course = job.hull.course(id);
    let half = job.rules.half_scarf();
    let (fore, aft) = (course.x_at(at - half), course.x_at(at + half));
    let kept_clear = |zone: &&twinstrake::hull::Zone| zone.covers(course);
    let clear_of_zones = job
        .hull
        .keep_clear
        .iter()
        .filter(kept_clear)
        .all(|zone| aft <= zone.from || zone.to <= fore);
    let near = |other: &Course| {
        other.panel == course.panel
            && other.number != course.number
            && other.number.abs_diff(course.number) <= job.rules.joints.clear_courses
    };
    let clear_of_joints = laid.iter().filter(|piece| piece.number > 1).all(|piece| {
        let other = job.hull.course(piece.course);
        let there = other.x_at(piece.from + half);
        !near(other) || (course.x_at(at) - there).abs() >= job.rules.joints.clear
    });
    clear_of_zones && clear_of_joints
}

fn with_joints(job: &Job, laid: &[Piece], id: CourseId, joints: &[S]) -> Option<Vec<Piece>> {
    let course = job.hull.course(id);
    let mut cuts = Vec::new();
    let mut taken: Vec<(StripId, U, U)> = laid
        .iter()
        .map(|piece| (piece.strip, piece.cut_from, piece.cut_to))
        .collect();
    for (from, to) in spans(job, course, joints) {
        let length = to - from;
        let cut = match course.kind {
            Kind::Centre => single(job, &taken, length, course),
            Kind::Mirrored => pair(job, &taken, length, course),
        }?;
        taken.push((cut.strip, cut.at, cut.at + length));
        if let Some((mate, at)) = cut.mate {
            taken.push((mate, at, at + length));
        }
        let varied = varied(cut, id.0 + cuts.len());
        let across = varied.mate.map(|(mate, _)| mate);
        let allowed = may_lie(job, course, varied.strip, Side::Port)
            && across.is_none_or(|mate| may_lie(job, course, mate, Side::Starboard));
        cuts.push(if allowed { varied } else { cut });
    }
    Some(lay_course(job, id, joints, &cuts))
}

/// The same wood, now and then the other end to the bow or the other strip to port, so that plans differ in that too.
fn varied(cut: Cut, turn: usize) -> Cut {
    let cut = if turn.is_multiple_of(3) {
        cut.turned()
    } else {
        cut
    };
    match cut.mate {
        Some((mate, at)) if turn % 4 == 1 => Cut {
            strip: mate,
            at,
            mate: Some((cut.strip, cut.at)),
            ..cut
        },
        _ => cut,
    }
}

/// Whether the wants let a strip lie on one side of a course: rule 10. On a course without sides any side will do.
fn may_lie(job: &Job, course: &Course, strip: StripId, side: Side) -> bool {
    let keepers = || {
        job.wants
            .iter()
            .filter(|want| want.keep && want.names(&job.stock, strip))
    };
    let mut here = job.wants.iter().filter(|want| want.covers(course));
    here.all(|want| want.allows(&job.stock, strip, side))
        && (keepers().next().is_none() || keepers().any(|want| want.covers(course)))
}

fn single(job: &Job, taken: &[(StripId, U, U)], length: Length, course: &Course) -> Option<Cut> {
    strips(job)
        .filter(|strip| may_lie(job, course, *strip, Side::Centre))
        .find_map(|strip| {
            let at = first_room(&free(job, taken, strip), length)?;
            Some(Cut {
                strip,
                at,
                mate: None,
                bow_end: BowEnd::Mark,
            })
        })
}

/// Sisters where there are any, else two of one board, else any two.
fn pair(job: &Job, taken: &[(StripId, U, U)], length: Length, course: &Course) -> Option<Cut> {
    let free: Vec<Vec<(U, U)>> = strips(job).map(|strip| free(job, taken, strip)).collect();
    let usable: Vec<StripId> = strips(job)
        .filter(|strip| first_room(&free[strip.0], length).is_some())
        .collect();
    let in_book = |one: StripId, other: StripId| {
        let both = common(&free[one.0], &free[other.0]);
        first_room(&both, length).map(|at| (at, at))
    };
    let of_pair = |port: StripId, starboard: StripId| {
        may_lie(job, course, port, Side::Port) && may_lie(job, course, starboard, Side::Starboard)
    };
    for kin in [Kin::Sisters, Kin::OneBoard, Kin::Foster] {
        for (i, &one) in usable.iter().enumerate() {
            for &other in &usable[i + 1..] {
                let across = match (of_pair(one, other), of_pair(other, one)) {
                    (true, _) => false,
                    (_, true) => true,
                    _ => continue,
                };
                let places = match kin {
                    _ if Kin::of(job, one, other) != kin => None,
                    Kin::Sisters | Kin::OneBoard => in_book(one, other),
                    Kin::Foster => {
                        first_room(&free[one.0], length).zip(first_room(&free[other.0], length))
                    }
                };
                if let Some((at, mate_at)) = places {
                    let ((strip, at), mate) = match across {
                        false => ((one, at), (other, mate_at)),
                        true => ((other, mate_at), (one, at)),
                    };
                    return Some(Cut {
                        strip,
                        at,
                        mate: Some(mate),
                        bow_end: BowEnd::Mark,
                    });
                }
            }
        }
    }
    None
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kin {
    Sisters,
    OneBoard,
    Foster,
}

impl Kin {
    fn of(job: &Job, one: StripId, other: StripId) -> Kin {
        if job.stock.are_sisters(one, other) {
            Kin::Sisters
        } else if job.stock.seq_apart(one, other).is_some() {
            Kin::OneBoard
        } else {
            Kin::Foster
        }
    }
}

fn strips(job: &Job) -> impl Iterator<Item = StripId> {
    job.stock.strips().map(|(id, _)| id)
}

/// The stretches of a strip that are sound and not taken, with room left for the saw.
fn free(job: &Job, taken: &[(StripId, U, U)], strip: StripId) -> Vec<(U, U)> {
    let wood = job.stock.strip(strip);
    if wood.cull {
        return Vec::new();
    }
    let allow = &job.rules.allow;
    let (saw, clear) = (allow.saw, allow.defect);
    let end = U::at(wood.length);
    let defects = wood.defects.iter();
    let mut closed: Vec<(U, U)> = defects.map(|d| (d.from - clear, d.to + clear)).collect();
    closed.push((U::ORIGIN - allow.end_trim, U::ORIGIN + allow.end_trim));
    closed.push((end - allow.end_trim, end + allow.end_trim));
    let cuts = taken.iter().filter(|(of, ..)| *of == strip);
    closed.extend(cuts.map(|(_, from, to)| (*from - saw, *to + saw)));
    closed.sort();
    let mut open = Vec::new();
    let mut from = U::ORIGIN;
    for (begins, ends) in closed {
        if begins > from {
            open.push((from, begins));
        }
        from = from.max(ends);
    }
    if U::at(wood.length) > from {
        open.push((from, U::at(wood.length)));
    }
    open
}

fn first_room(open: &[(U, U)], length: Length) -> Option<U> {
    let fits = |stretch: &&(U, U)| stretch.1 - stretch.0 >= length;
    open.iter().find(fits).map(|stretch| stretch.0)
}

fn common(one: &[(U, U)], other: &[(U, U)]) -> Vec<(U, U)> {
    let mut both = Vec::new();
    for a in one {
        for b in other {
            let (from, to) = (a.0.max(b.0), a.1.min(b.1));
            if from < to {
                both.push((from, to));
            }
        }
    }
    both
}
