//! The first plan: course after course, each as well as what is left in the rack allows.

use super::draft::Draft;
use super::fill::{ConstructionParameters, fill, offers};
use super::packed;
use super::problem::{NONE, Problem, Span};
use super::rng::SearchRng;
use super::state::{Change, State};
use super::timber::Part;
use rand::RngExt;
use rand::seq::SliceRandom;

/// In which order the courses are laid.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Order {
    /// From the start line outwards: looks best while there is plenty.
    Outwards,
    /// The longest first: covers most where wood is short.
    LongestFirst,
    /// First what can be cut side by side from as few strips as possible, then the rest, the longest first.
    Packed,
    /// Any order.
    Shuffled,
}

/// Keeps a change where it is better than the best so far.
fn keep(state: &State, best: &mut Option<(f64, Change)>, change: Change) {
    let by = state.price(&change);
    if best.as_ref().is_none_or(|(least, _)| by < *least) {
        *best = Some((by, change));
    }
}

/// All ways to cut a course from two strips at the same place, flush with an end of the room on both.
fn flush(state: &State, row: usize, whole: &Part, wood: [u32; 2]) -> Vec<Change> {
    let problem = state.problem;
    let mut changes = Vec::new();
    if !problem.allowed.wood(row, wood) {
        return changes;
    }
    let mut draft = Draft::new(state);
    draft.strip(row);
    let fitting: Vec<Span> = { draft.room(wood).into_iter() }
        .filter(|&(a, b)| b - a >= whole.length())
        .collect();
    for &end in problem.bow_ends(row, wood) {
        for from in fitting.iter().flat_map(|&(a, b)| [a, b - whole.length()]) {
            let part = Part {
                wood,
                cut: [from; 2],
                bow: [end; 2],
                ..*whole
            };
            let mut draft = Draft::new(state);
            draft.strip(row);
            draft.place(row, part);
            changes.push(draft.finish());
        }
    }
    changes
}

/// Lays every open course that can be laid, in this order, with foster mates only where nothing else is left.
///
/// What lies on the other courses stays. Stopped, it leaves open what it has not come to.
pub fn construct<'a>(
    mut state: State<'a>,
    order: Order,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> State<'a> {
    let problem = state.problem;
    let mut rows: Vec<usize> = (0..problem.rows.len()).collect();
    match order {
        Order::Outwards => {}
        Order::LongestFirst | Order::Packed => {
            rows.sort_by_key(|&row| std::cmp::Reverse(problem.rows[row].one_piece()))
        }
        Order::Shuffled => rows.shuffle(rng),
    }
    // First the courses that a want leaves the least choice: others could take what they need.
    rows.sort_by_key(|&row| problem.allowed.choice(row).map_or(usize::MAX, <[u32]>::len));
    if order == Order::Packed && state.rack().used() == 0 {
        packed::lay(&mut state);
    }
    let thrifty = if order == Order::Outwards {
        0.5
    } else {
        rng.random_range(0.0..4.0)
    };
    complete(&mut state, &rows, thrifty, rng, stop);
    state
}

/// A plan with one of the given twos on each course, the way round that suits best; courses for which none is given,
/// or for which it has no room, are laid with what is left.
pub fn lay_given<'a>(
    problem: &'a Problem,
    wood: &[Vec<[u32; 2]>],
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) -> State<'a> {
    let mut state = State::bare(problem);
    let is_shared = |strip: u32| {
        let given = wood
            .iter()
            .filter(|given| matches!(given[..], [one] if one.contains(&strip)));
        strip != NONE && given.count() > 1
    };
    for (row, given) in wood.iter().enumerate() {
        let whole = Part::whole(problem, row);
        let shares = match given[..] {
            [[a, b]] if b == NONE || problem.one_board(a, b) => is_shared(a) || is_shared(b),
            _ => false,
        };
        let ways = given.iter().flat_map(|&[a, b]| match b {
            NONE => vec![[a, b]],
            _ => vec![[a, b], [b, a]],
        });
        let mut best: Option<(f64, Change)> = None;
        for way in ways {
            let mut draft = Draft::new(&state);
            draft.strip(row);
            if shares {
                // Flush with an end of the room, so that there is room for the other courses.
                for change in flush(&state, row, &whole, way) {
                    keep(&state, &mut best, change);
                }
            } else if draft.put(row, &whole, way) {
                keep(&state, &mut best, draft.finish());
            }
        }
        if let Some((_, change)) = best {
            state.make(change);
        }
    }
    let rows: Vec<usize> = (0..problem.rows.len()).collect();
    complete(&mut state, &rows, 0.5, rng, stop);
    state
}

/// Lays every open course that can be laid, in this order, until it is stopped.
pub fn complete(
    state: &mut State,
    rows: &[usize],
    thrifty: f64,
    rng: &mut SearchRng,
    stop: &dyn Fn() -> bool,
) {
    let parameters = ConstructionParameters {
        alike: 10,
        random: 24,
        places: 16,
        thrifty,
        ..ConstructionParameters::NONE
    };
    for round in 0..3 {
        let foster = 8 * round;
        let parameters = ConstructionParameters {
            foster,
            random: parameters.random << round,
            ..parameters
        };
        for &row in rows {
            if stop() {
                return;
            }
            if !state.timber(row).is_empty() {
                continue;
            }
            let mut draft = Draft::new(state);
            draft.strip(row);
            let wood = offers(&draft, row, &[], &parameters, rng);
            if fill(&mut draft, row, &wood, &parameters, rng) {
                let change = draft.finish();
                state.make(change);
            }
        }
        if state.is_covered() {
            break;
        }
    }
}
