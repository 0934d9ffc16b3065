//! Figures of a table of offsets that stand out from their neighbours: slips of the pen, misprints, a wrong line read.

/// Which figure of a point.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ordinate {
    /// Half-breadth.
    HalfBreadth,
    /// Height.
    Height,
}

/// A figure that stands out.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Misprint {
    /// Which form, in the order of the table.
    pub form: usize,
    /// Which point of its section, from the start line.
    pub point: usize,
    /// Which of its two figures.
    pub ordinate: Ordinate,
    /// What would fit its neighbours. Unit: mm.
    pub fits: f64,
}

/// How many times the usual departure a figure must stand off. Chosen with [`TURNS`] on three tables with each figure
/// spoiled in turn, a printed one of a canoe, the demo's and the Wigley hull: of errors of an inch 95 % and more are
/// found, of half an inch 86 % and more, and none where there is none.
const STANDS_OUT: f64 = 3.5;
/// The same at the first and the last form, where neighbours stand on one side only.
const STANDS_OUT_AT_ENDS: f64 = 1.25;
/// And beside them, for they lean on what is there.
const BESIDE_ENDS: f64 = 1.3;
/// Median of the absolute value to standard deviation, of a normal distribution.
const SPREAD: f64 = 1.4826;
/// Two figures that would explain what stands out as well as each other, to within this, are both told.
const AS_WELL: f64 = 0.5;
/// Of more than these a table is not misprinted but rough.
const MOST: usize = 6;
/// Where a whole form departs, as where a panel runs out, the boat herself turns quickly: there a figure must stand
/// off by this part of what the others of its form depart by.
const TURNS: f64 = 0.9;
/// Fewer forms than these tell nothing.
const FEWEST: usize = 5;

/// The figures of a table that stand out from what their neighbours make likely, by form.
///
/// Each is left out in turn and read off a cubic through its four neighbours along the boat, at the ends off a
/// parabola through three, corrected by how the other half-breadths of that form depart from theirs. What departs as
/// the points above and below it do is the boat and no misprint. How much is usual is told by the median of all
/// departures, and of those at the form. Where the figure with the greatest departure is not the one whose mending
/// leaves the least standing out, the latter is told. The half-breadths of the first and last line are not judged at
/// the ends: there they run into the stem.
///
/// `grain` is to what the table is given (unit: mm), `sections` the points of each form, as many at each, as
/// [half-breadth, height]; `x` where the forms stand.
pub fn misprints(x: &[f64], sections: &[Vec<[f64; 2]>], grain: f64) -> Vec<Misprint> {
    let points = sections.first().map_or(0, Vec::len);
    if x.len() < FEWEST || sections.iter().any(|section| section.len() != points) {
        return Vec::new();
    }
    let mut table = Table::of(x, sections, points);
    let limits = table.limits(grain);
    let mut told: Vec<(usize, usize)> = Vec::new();
    let mut found = Vec::new();
    for _ in 0..MOST {
        let departures = table.departures();
        let alone = table.alone(&departures);
        let stands_out = |&(line, form): &(usize, usize)| {
            alone[line][form] > limits[form] && !told.contains(&(line, form))
        };
        let places =
            (0..table.lines.len()).flat_map(|line| (0..x.len()).map(move |form| (line, form)));
        let mended: Vec<((usize, usize), f64)> = places
            .filter(stands_out)
            .map(|at| (at, table.mended(at, &departures).unrest(&limits)))
            .collect();
        let least = mended.iter().min_by(|one, other| one.1.total_cmp(&other.1));
        let Some((best, unrest)) = least.copied() else {
            break;
        };
        for ((line, form), _) in mended.iter().filter(|(_, rest)| *rest <= unrest + AS_WELL) {
            told.push((*line, *form));
            let of = &table.lines[*line];
            found.push(Misprint {
                form: *form,
                point: of.point,
                ordinate: of.ordinate,
                fits: of.values[*form] - departures[*line][*form],
            });
        }
        table = table.mended(best, &departures);
    }
    found.sort_by_key(|misprint| (misprint.form, misprint.point));
    found
}

/// One figure of one point, from form to form.
#[derive(Clone)]
struct Line {
    point: usize,
    ordinate: Ordinate,
    values: Vec<f64>,
    /// Whether it is a line of the drawing's grid, alike at all forms but one at most: it tells nothing of the others.
    ruled: bool,
    runs_into_stem: bool,
}

#[derive(Clone)]
struct Table {
    lines: Vec<Line>,
    /// For each form its neighbours, and how much each of them counts.
    leans_on: Vec<Vec<(usize, f64)>>,
    /// The same for each form from which a parabola can be drawn through three on one side.
    one_sided: Vec<(usize, Vec<(usize, f64)>)>,
}

impl Table {
    fn of(x: &[f64], sections: &[Vec<[f64; 2]>], points: usize) -> Table {
        let line = |point: usize, ordinate: Ordinate| {
            let k = match ordinate {
                Ordinate::HalfBreadth => 0,
                Ordinate::Height => 1,
            };
            let values: Vec<f64> = sections.iter().map(|section| section[point][k]).collect();
            let usual = median(values.clone());
            let others = values.iter().filter(|value| **value != usual).count();
            Line {
                point,
                ordinate,
                ruled: others < 2,
                runs_into_stem: k == 0 && (point == 0 || point + 1 == points),
                values,
            }
        };
        let last = x.len() - 1;
        let weighed = |form: usize, others: Vec<usize>| -> Vec<(usize, f64)> {
            let weight = |one: usize| -> f64 {
                let rest = others.iter().filter(|other| **other != one);
                rest.map(|other| (x[form] - x[*other]) / (x[one] - x[*other]))
                    .product()
            };
            others.iter().map(|one| (*one, weight(*one))).collect()
        };
        let leans_on = (0..=last).map(|form| {
            let others: Vec<usize> = match form {
                0 => vec![1, 2, 3],
                _ if form == last => vec![last - 1, last - 2, last - 3],
                _ => {
                    let from = form.saturating_sub(2).min(last - 4);
                    (from..from + 5).filter(|other| *other != form).collect()
                }
            };
            weighed(form, others)
        });
        let aft =
            (0..=last - 3).map(|form| (form, weighed(form, vec![form + 1, form + 2, form + 3])));
        let fore = (3..=last).map(|form| (form, weighed(form, vec![form - 1, form - 2, form - 3])));
        Table {
            lines: (0..points)
                .flat_map(|point| {
                    [Ordinate::HalfBreadth, Ordinate::Height].map(|which| line(point, which))
                })
                .collect(),
            leans_on: leans_on.collect(),
            one_sided: aft.chain(fore).collect(),
        }
    }

    /// From which departure on a figure stands out, by form.
    fn limits(&self, grain: f64) -> Vec<f64> {
        let last = self.leans_on.len() - 1;
        let usual = |all: &[(usize, Vec<(usize, f64)>)]| {
            let measured = self.lines.iter().filter(|line| !line.ruled);
            let departures =
                measured.flat_map(|line| all.iter().map(|(form, on)| off(line, *form, on).abs()));
            SPREAD * median(departures.collect())
        };
        let inner: Vec<(usize, Vec<(usize, f64)>)> = (2..=last - 2)
            .map(|form| (form, self.leans_on[form].clone()))
            .collect();
        let limit = STANDS_OUT * usual(&inner).max(0.5 * grain);
        let at_ends = (STANDS_OUT_AT_ENDS * usual(&self.one_sided)).max(1.5 * limit);
        let departures = self.departures();
        let here = |form: usize| {
            let measured = self.lines.iter().zip(&departures);
            let measured = measured.filter(|(line, _)| !line.ruled);
            median(measured.map(|(_, all)| all[form].abs()).collect())
        };
        (0..=last)
            .map(|form| match form.min(last - form) {
                0 => at_ends,
                1 => BESIDE_ENDS * limit,
                _ => limit,
            })
            .zip(0..)
            .map(|(limit, form)| limit.max(TURNS * here(form)))
            .collect()
    }

    /// How far each figure is off what its neighbours make likely, by line and form.
    fn departures(&self) -> Vec<Vec<f64>> {
        let last = self.leans_on.len() - 1;
        let along: Vec<Vec<f64>> = self
            .lines
            .iter()
            .map(|line| {
                (0..=last)
                    .map(|form| off(line, form, &self.leans_on[form]))
                    .collect()
            })
            .collect();
        let mut all = along.clone();
        for (i, line) in self.lines.iter().enumerate() {
            for form in [0, last] {
                if line.runs_into_stem {
                    all[i][form] = 0.0;
                } else if line.ordinate == Ordinate::HalfBreadth {
                    let others =
                        self.lines
                            .iter()
                            .zip(&along)
                            .enumerate()
                            .filter(|(j, (other, _))| {
                                *j != i && other.ordinate == Ordinate::HalfBreadth && !other.ruled
                            });
                    all[i][form] -= median(others.map(|(_, (_, along))| along[form]).collect());
                }
            }
        }
        all
    }

    /// How far each figure departs by itself: from its neighbours along the boat, or from how the points above and
    /// below it depart, whichever is less. Always positive.
    fn alone(&self, departures: &[Vec<f64>]) -> Vec<Vec<f64>> {
        // Half-breadths and heights take turns.
        let beside = |line: usize, by: isize| {
            let other = line.checked_add_signed(2 * by)?;
            departures.get(other)
        };
        let expected = |line: usize, form: usize| {
            let at = |by: isize| Some(beside(line, by)?[form]);
            let beyond = |one: f64, next: Option<f64>| next.map_or(one, |next| 2.0 * one - next);
            match (at(-1), at(1)) {
                (Some(above), Some(below)) => 0.5 * (above + below),
                (None, Some(below)) => beyond(below, at(2)),
                (Some(above), None) => beyond(above, at(-2)),
                (None, None) => 0.0,
            }
        };
        let lines = departures.iter().enumerate();
        lines
            .map(|(line, all)| {
                let forms = all.iter().enumerate();
                forms
                    .map(|(form, own)| own.abs().min((own - expected(line, form)).abs()))
                    .collect()
            })
            .collect()
    }

    /// The table with one figure as its neighbours would have it.
    fn mended(&self, (line, form): (usize, usize), departures: &[Vec<f64>]) -> Table {
        let mut table = self.clone();
        table.lines[line].values[form] -= departures[line][form];
        table
    }

    /// How much stands out in it: what is beyond the limits above all.
    fn unrest(&self, limits: &[f64]) -> f64 {
        let alone = self.alone(&self.departures());
        let parts = alone.iter().flat_map(|line| line.iter().zip(limits));
        parts
            .map(|(departure, limit)| departure / limit)
            .map(|part| (part - 1.0).max(0.0) + 0.05 * part.min(3.0))
            .sum()
    }
}

fn off(line: &Line, form: usize, on: &[(usize, f64)]) -> f64 {
    line.values[form]
        - on.iter()
            .map(|(other, weight)| weight * line.values[*other])
            .sum::<f64>()
}

/// The middle value, or the mean of the middle two; nothing of nothing.
fn median(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    match all.len() {
        0 => 0.0,
        n if n % 2 == 1 => all[n / 2],
        n => 0.5 * (all[n / 2 - 1] + all[n / 2]),
    }
}
