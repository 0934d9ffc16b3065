//! What a plan has of a board is never cheaper than the cheapest share of that board.

use super::{Field, Tolls, share};
use crate::job::Job;
use crate::solve::anneal::{Cooling, anneal};
use crate::solve::bound::chain::Chain;
use crate::solve::bound::pairs::Pairs;
use crate::solve::bound::slices;
use crate::solve::bound::wood::Pieces;
use crate::solve::jobs;
use crate::solve::moves::{Mix, dice};
use crate::solve::problem::{NONE, Problem};
use crate::solve::start::{Order, construct};
use crate::solve::state::State;
use crate::solve::timber::Part;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Moves by which a plan is thrown about, and how hot that is.
const TRIES: u64 = 3000;
const HEAT: [[f64; 2]; 2] = [[10.0, 0.05], [40.0, 20.0]];

/// A problem with its boards as the bound sees them.
struct Boat<'a> {
    problem: &'a Problem,
    pairs: Pairs,
    chains: Vec<Chain>,
    spans: Vec<(f64, f64)>,
    field: Field,
}

impl<'a> Boat<'a> {
    fn new(problem: &'a Problem) -> Boat<'a> {
        let pairs = Pairs::new(problem, true).expect("few enough pairs");
        let pieces = Pieces::of(problem);
        let (chains, spans) = slices::chains(problem, &pairs, &pieces);
        let field = Field::new(problem, &pairs, &pieces, &chains, &spans);
        assert!(!field.courses.is_empty());
        Boat {
            problem,
            pairs,
            chains,
            spans,
            field,
        }
    }

    /// The board of a piece, where its mates are of one.
    fn board(&self, part: &Part) -> Option<usize> {
        let mates = part.wood.iter().filter(|strip| **strip != NONE);
        let mut boards = mates.map(|strip| {
            let boards = &self.pairs.boards;
            boards.iter().position(|board| board.strips.contains(strip))
        });
        let first = boards.next()?;
        boards.all(|board| board == first).then_some(first)?
    }

    fn at(&self, timber: &[Part], x: f64) -> Option<usize> {
        let part = timber.iter().find(|part| part.x_from <= x && x < part.x_to);
        part.and_then(|part| self.board(part))
    }

    /// Pieces between any two places where something changes: length and middle. Unit: metres, mm.
    fn cut(&self, (from, to): (f64, f64), timber: &[&[Part]]) -> Vec<(f64, f64)> {
        let ends = timber.iter().flat_map(|timber| timber.iter());
        let ends = ends.flat_map(|part| [part.x_from, part.x_to]);
        let inside = ends.filter(|x| from < *x && *x < to);
        let mut cuts: Vec<f64> = [from, to].into_iter().chain(inside).collect();
        cuts.sort_by(f64::total_cmp);
        let two = cuts.windows(2);
        two.map(|two| ((two[1] - two[0]) / 1000.0, 0.5 * (two[0] + two[1])))
            .collect()
    }

    /// Metres of a course that lie in a board, and in mates of two boards where no board is named, as far as chains account for them.
    fn metres(&self, state: &State, board: Option<usize>, c: usize) -> f64 {
        let row = self.field.courses[c].row;
        let on_row = |chain: &Chain| chain.links.iter().any(|link| link.row == row);
        let spans = self.chains.iter().zip(&self.spans);
        let spans = spans.filter(|(chain, _)| on_row(chain));
        let timber = state.timber(row);
        let cuts = spans.flat_map(|(_, span)| self.cut(*span, &[timber]));
        let laid = |x: f64| timber.iter().any(|part| part.x_from <= x && x < part.x_to);
        let here = cuts.filter(|(_, x)| laid(*x) && self.at(timber, *x) == board);
        here.map(|(metres, _)| metres).sum()
    }

    /// Metres of a seam with the board on one side of it only.
    fn edge(&self, state: &State, board: usize, s: usize) -> f64 {
        if self.field.seams[s].is_none() {
            return 0.0;
        }
        let rows = [s, s + 1].map(|c| self.field.courses[c].row);
        let timber = rows.map(|row| state.timber(row).as_slice());
        let meets = |chain: &Chain| {
            let mut two = chain.links.windows(2);
            two.any(|two| [two[0].row, two[1].row] == rows)
        };
        let spans = self.chains.iter().zip(&self.spans);
        let spans = spans.filter(|(chain, _)| meets(chain));
        let cuts = spans.flat_map(|(_, span)| self.cut(*span, &timber));
        let edges = cuts.filter(|(_, x)| {
            let [upper, lower] = timber.map(|timber| self.at(timber, *x) == Some(board));
            upper != lower
        });
        edges.map(|(metres, _)| metres).sum()
    }

    /// Ends that a board has on a course at joints with other wood.
    fn ends(&self, state: &State, board: usize, c: usize) -> f64 {
        let joints = state.timber(self.field.courses[c].row).windows(2);
        let ends = joints.filter(|two| {
            let [fore, aft] = [&two[0], &two[1]].map(|part| self.board(part) == Some(board));
            fore != aft
        });
        ends.count() as f64
    }

    /// What colour steps at the joints of a course cost in a plan.
    fn steps(&self, state: &State, c: usize) -> f64 {
        let course = &self.field.courses[c];
        let joints = state.timber(course.row).windows(2);
        let step = |two: &[Part]| {
            let sides = two[0].sides();
            let all = sides.clone().map(|side| {
                let [one, other] = [two[0].wood[side], two[1].wood[side]];
                self.problem.difference(one, other)
            });
            course.weight * all.sum::<f64>() / sides.len() as f64
        };
        joints.map(step).sum()
    }
}

fn hold(job: &Job, seed: u64, dice: &mut Pcg64Mcg, parts: &mut usize) {
    let problem = Problem::new(job);
    let boat = Boat::new(&problem);
    let field = &boat.field;
    let orders = [
        Order::Outwards,
        Order::LongestFirst,
        Order::Packed,
        Order::Shuffled,
    ];
    for (number, order) in orders.into_iter().enumerate() {
        let mut lots = self::dice(seed, number);
        let mut state = construct(State::bare(&problem), order, &mut lots, &|| false);
        // Thrown about, so that boards share courses in any odd way; every other time cooled, so that they end no oftener than they must.
        let [hot, cold] = HEAT[number % 2];
        let cooling = Cooling {
            tries: TRIES,
            hot,
            cold,
            mix: Mix::Joined,
        };
        anneal(&mut state, &cooling, &mut lots, &|| false);
        for c in 0..field.courses.len() {
            let all = 0..boat.pairs.boards.len();
            let charged: f64 = all
                .map(|board| boat.ends(&state, board, c) * field.joints[board][c])
                .sum();
            let strange = boat.metres(&state, None, c) * field.courses[c].strange;
            assert!(
                charged <= boat.steps(&state, c) + strange + 1e-9,
                "job {seed}, order {number}, course {c}: joints are charged too much"
            );
        }
        for board in 0..boat.pairs.boards.len() {
            let metres: Vec<f64> = (0..field.courses.len())
                .map(|c| boat.metres(&state, Some(board), c))
                .collect();
            let ends: Vec<f64> = (0..field.courses.len())
                .map(|c| boat.ends(&state, board, c))
                .collect();
            let edges: Vec<f64> = (0..field.seams.len())
                .map(|s| boat.edge(&state, board, s))
                .collect();
            for (s, seam) in field.seams.iter().enumerate() {
                let Some(seam) = seam else { continue };
                for side in 0..2 {
                    let other = ends[s + 1 - side];
                    let least = match (ends[s + side] as usize, other as usize) {
                        (0, _) => 0,
                        (1, _) | (_, 1..) => seam.stagger[side],
                        _ => seam.both[side],
                    };
                    assert!(
                        edges[s] >= least as f64 * field.unit - 1e-6,
                        "job {seed}, order {number}, board {board}, seam {s}: {} below {least} steps",
                        edges[s]
                    );
                }
            }
            *parts += ends.iter().filter(|ends| **ends > 0.0).count();
            for _ in 0..12 {
                // Worth having where the plan has it, mostly: so the cheapest share is near what the plan has.
                let worth: Vec<f64> = metres
                    .iter()
                    .map(|metres| match *metres > 0.0 || dice.random_bool(0.1) {
                        true => dice.random_range(0.0..6.0),
                        false => dice.random_range(-6.0..0.0),
                    })
                    .collect();
                let dear = dice.random_range(0.0..8.0);
                let toll: Vec<f64> = edges
                    .iter()
                    .map(|_| dice.random_range(0.0..=dear))
                    .collect();
                let part: Vec<f64> = ends.iter().map(|_| dice.random_range(0.0..3.0)).collect();
                let mut tolls = Tolls::none(boat.pairs.boards.len(), field.courses.len());
                tolls.set(
                    |_, c| worth[c],
                    |_, s| toll.get(s).copied().unwrap_or(0.0),
                    |c| part[c],
                );
                let bought: f64 = metres.iter().zip(&worth).map(|(m, w)| m * w).sum();
                let paid: f64 = edges.iter().zip(&toll).map(|(m, t)| m * t).sum();
                let joined: f64 = (0..field.courses.len())
                    .map(|c| ends[c] * (field.joints[board][c] + part[c]))
                    .sum();
                let has = paid + joined - bought;
                let least = share(field, &tolls, board).cost;
                assert!(
                    least <= has + 1e-6 * has.abs().max(1.0),
                    "job {seed}, order {number}, board {board}: {least} above {has}"
                );
            }
        }
    }
}

#[test]
fn no_plan_has_a_share_cheaper_than_the_cheapest() {
    let mut dice = Pcg64Mcg::seed_from_u64(11);
    let mut parts = 0;
    for seed in 0..3 {
        hold(&jobs::short_stock(8, seed), seed, &mut dice, &mut parts);
        let mut job = jobs::short_stock(10, seed);
        job.rules.joints.clear_courses = 1;
        job.weights.foster = 2.0;
        hold(&job, seed, &mut dice, &mut parts);
        hold(&jobs::big(8, seed), seed, &mut dice, &mut parts);
        hold(&jobs::long_boat(12, 60, seed), seed, &mut dice, &mut parts);
    }
    hold(&jobs::three_panels(1), 1, &mut dice, &mut parts);
    assert!(parts > 200, "hardly a board had part of a course: {parts}");
}
