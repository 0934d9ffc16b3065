//! Where joints lie and strips are cut: inequalities between unknown places, of which some hold and of others one of
//! two.

use crate::solve::problem::Span;
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};
use smallvec::{SmallVec, smallvec};

/// Beyond any place on a boat or a strip. Unit: mm.
const FAR: f64 = 1e7;

/// A sum of unknown places, each so many times, and a known length. Unit: mm.
#[derive(Clone, PartialEq, Debug)]
pub struct Lin {
    terms: SmallVec<[(usize, f64); 4]>,
    /// What is known of it.
    pub value: f64,
}

impl Lin {
    /// A known place.
    pub fn of(value: f64) -> Lin {
        Lin {
            terms: SmallVec::new(),
            value,
        }
    }

    fn unknown(at: usize) -> Lin {
        Lin {
            terms: smallvec![(at, 1.0)],
            value: 0.0,
        }
    }

    /// Whether nothing of it is unknown.
    pub fn is_known(&self) -> bool {
        self.terms.is_empty()
    }

    /// So much more.
    pub fn plus(mut self, value: f64) -> Lin {
        self.value += value;
        self
    }

    /// So many times as much.
    pub fn scaled(&self, by: f64) -> Lin {
        Lin {
            terms: self.terms.iter().map(|(at, n)| (*at, n * by)).collect(),
            value: self.value * by,
        }
    }

    /// The difference of two.
    pub fn minus(&self, other: &Lin) -> Lin {
        self.and(&other.scaled(-1.0))
    }

    /// The sum of two.
    pub fn and(&self, other: &Lin) -> Lin {
        let mut sum = self.clone();
        sum.value += other.value;
        for &(at, n) in &other.terms {
            match sum.terms.iter_mut().find(|(there, _)| *there == at) {
                Some((_, times)) => *times += n,
                None => sum.terms.push((at, n)),
            }
        }
        sum.terms.retain(|(_, n)| *n != 0.0);
        sum
    }

    /// What it is where the unknown places are these.
    pub fn at(&self, values: &[f64]) -> f64 {
        self.terms
            .iter()
            .fold(self.value, |sum, (at, n)| sum + n * values[*at])
    }
}

/// A piece on a strip.
struct OnStrip {
    strip: u32,
    room: Span,
    from: Lin,
    to: Lin,
    /// Its length at the least, with the cut beside it. Unit: mm.
    least: f64,
}

/// All unknown places and what is demanded of them.
#[derive(Default)]
pub struct Places {
    /// Between what each unknown place lies.
    unknown: Vec<(f64, f64)>,
    /// None of these may be less than nothing.
    all: Vec<Lin>,
    /// Of each two one may not.
    either: Vec<[Lin; 2]>,
    pieces: Vec<OnStrip>,
}

/// How much there was at some moment.
#[derive(Clone, Copy)]
pub struct Mark([usize; 4]);

impl Places {
    /// How much there is.
    pub fn mark(&self) -> Mark {
        Mark([
            self.unknown.len(),
            self.all.len(),
            self.either.len(),
            self.pieces.len(),
        ])
    }

    /// Forgets what came after.
    pub fn back_to(&mut self, Mark([unknown, all, either, pieces]): Mark) {
        self.unknown.truncate(unknown);
        self.all.truncate(all);
        self.either.truncate(either);
        self.pieces.truncate(pieces);
    }

    /// A joint somewhere in these windows, which are in order; `None` where there are none.
    pub fn joint(&mut self, windows: &[Span]) -> Option<Lin> {
        let (first, last) = (windows.first()?, windows.last()?);
        self.unknown.push((first.0.mm(), last.1.mm()));
        let joint = Lin::unknown(self.unknown.len() - 1);
        for two in windows.windows(2) {
            let before = Lin::of(two[0].1.mm()).minus(&joint);
            let behind = joint.clone().plus(-two[1].0.mm());
            self.either.push([before, behind]);
        }
        Some(joint)
    }

    /// A place on a strip where a piece begins.
    pub fn start(&mut self) -> Lin {
        self.unknown.push((-FAR, FAR));
        Lin::unknown(self.unknown.len() - 1)
    }

    /// Demands that it is not less than nothing.
    pub fn at_least(&mut self, lin: &Lin) {
        self.all.push(lin.clone());
    }

    /// Demands that two places are so far apart, whichever comes first.
    pub fn apart(&mut self, one: &Lin, other: &Lin, by: f64) {
        let gap = other.minus(one);
        self.either
            .push([gap.clone().plus(-by), gap.scaled(-1.0).plus(-by)]);
    }

    /// A piece in some room of a strip, beside those that are there.
    pub fn piece(&mut self, strip: u32, room: Span, from: &Lin, length: &Lin, saw: f64) {
        let to = from.and(length);
        self.all.push(from.clone().plus(-room.0.mm()));
        self.all.push(Lin::of(room.1.mm()).minus(&to));
        for other in self
            .pieces
            .iter()
            .filter(|p| (p.strip, p.room) == (strip, room))
        {
            let before = other.from.minus(&to).plus(-saw);
            let behind = from.minus(&other.to).plus(-saw);
            self.either.push([before, behind]);
        }
        let least = self.least(length) + saw;
        self.pieces.push(OnStrip {
            strip,
            room,
            from: from.clone(),
            to,
            least,
        });
    }

    /// What a sum comes to at the least. Unit: mm.
    pub fn least(&self, lin: &Lin) -> f64 {
        lin.terms.iter().fold(lin.value, |sum, &(at, n)| {
            let (low, high) = self.unknown[at];
            sum + n * if n > 0.0 { low } else { high }
        })
    }

    /// Whether any piece is cut from a strip.
    pub fn is_touched(&self, strip: u32) -> bool {
        self.pieces.iter().any(|piece| piece.strip == strip)
    }

    /// How much of some room is taken at the least, cuts included. Unit: mm.
    pub fn least_taken(&self, strip: u32, room: Span) -> f64 {
        let here = self.pieces.iter();
        here.filter(|piece| (piece.strip, piece.room) == (strip, room))
            .map(|piece| piece.least.max(0.0))
            .sum()
    }

    /// Places that meet every demand but for so much, or with so much to spare where it is negative; `None` where
    /// there are none, or the patience is at its end.
    pub fn hold(&self, slack: f64, patience: &mut usize) -> Option<Vec<f64>> {
        self.with(&mut Vec::new(), slack, patience)
    }

    fn with(&self, more: &mut Vec<Lin>, slack: f64, patience: &mut usize) -> Option<Vec<f64>> {
        let demands = self.all.len() + more.len() + 1;
        // The more demands there are, the more of them the solver meets one after the other.
        let work = (self.unknown.len() + 1) * demands * (1 + demands / 32);
        *patience = patience.saturating_sub(work);
        if *patience == 0 {
            return None;
        }
        let values = self.solve(more, slack)?;
        // As good as held: what the solver's own rounding may break.
        let held = |lin: &Lin| lin.at(&values) >= -slack - 1e-7;
        let Some(two) = self.either.iter().find(|two| !two.iter().any(held)) else {
            return Some(values);
        };
        for one in two {
            more.push(one.clone());
            let found = self.with(more, slack, patience);
            more.pop();
            if found.is_some() {
                return found;
            }
        }
        None
    }

    /// Places at which these inequalities hold, the sum of all as small as it can be.
    fn solve(&self, more: &[Lin], slack: f64) -> Option<Vec<f64>> {
        let all = || self.all.iter().chain(more);
        if all().any(|lin| lin.is_known() && lin.value < -slack) {
            return None;
        }
        let mut variables = ProblemVariables::new();
        let unknown: Vec<Variable> = self
            .unknown
            .iter()
            .map(|&(low, high)| {
                variables.add(
                    variable()
                        .min(low - slack.max(0.0))
                        .max(high + slack.max(0.0)),
                )
            })
            .collect();
        if unknown.is_empty() {
            return Some(Vec::new());
        }
        let sum: Expression = unknown.iter().sum();
        let mut model = variables.minimise(sum).using(microlp);
        for lin in all().filter(|lin| !lin.is_known()) {
            let terms: Expression = lin.terms.iter().map(|&(at, n)| n * unknown[at]).sum();
            model.add_constraint(terms.geq(-lin.value - slack));
        }
        let solution = model.solve().ok()?;
        Some(unknown.iter().map(|at| solution.value(*at)).collect())
    }
}
