//! Jobs to measure on, by kind and size, from a seed: the same numbers give the same job on any machine.

use crate::hull::{Course, End, Hull, Kind, LayOrder, Panel, PanelId, Show, Stretch, Toward, Zone};
use crate::job::Job;
use crate::plan::{Allow, Edge, Edges, Joints, Rules, Weights};
use crate::stock::{BoardId, Defect, Origin, Stock, Strip};
use crate::units::{Colour, Length, U, Unit, X};
use rand::seq::SliceRandom;
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

fn mm(length: f64) -> Length {
    Length::from_mm(length.round())
}

/// Rules of a common small boat.
pub fn rules() -> Rules {
    Rules {
        width: mm(19.0),
        thickness: mm(6.0),
        edges: Edges::Square,
        joints: Joints {
            slope: 8.0,
            clear: mm(300.0),
            clear_courses: 2,
            shortest_piece: mm(600.0),
            most: 2,
        },
        allow: Allow {
            fitted_end: mm(25.0),
            free_end: mm(50.0),
            saw: mm(3.0),
            defect: Length::ZERO,
            end_trim: Length::ZERO,
        },
    }
}

fn panel(name: &str) -> Panel {
    Panel {
        name: name.to_string(),
        toward: Toward::Keel,
        look: 1.0,
        drift: None,
        lay: LayOrder::Alternate,
    }
}

fn course(panel: usize, number: u32, from: f64, to: f64) -> Course {
    let (from, to) = (from.round(), to.round());
    Course {
        panel: PanelId(panel),
        number,
        kind: Kind::Mirrored,
        from: X::from_mm(from),
        to: X::from_mm(to),
        length: mm((to - from) * 1.02),
        bow_end: End::Fitted,
        stern_end: End::Fitted,
        stretch: Stretch::Whole,
        crossings: Vec::new(),
    }
}

/// A panel's courses, each a little shorter than the one before.
fn courses(panel: usize, count: u32, boat: f64, taper: f64) -> Vec<Course> {
    (1..=count)
        .map(|number| {
            let off = taper * f64::from(number - 1);
            course(panel, number, off, boat - off)
        })
        .collect()
}

/// Boards of strips: each board has a colour, which drifts from slice to slice.
fn boards(
    rng: &mut impl Rng,
    strips: usize,
    a_board: usize,
    mut length: impl FnMut(usize) -> f64,
) -> Stock {
    let mut stock = Stock::default();
    let species = [(70.0, 7.0, 24.0), (58.0, 11.0, 23.0), (78.0, 6.0, 22.0)];
    for board in 0..strips.div_ceil(a_board) {
        let name = format!("{:03}", board + 1);
        let (l, a, b) = species[rng.random_range(0..species.len())];
        let mut at: [f64; 3] = [
            l + rng.random_range(-5.0..5.0),
            a + rng.random_range(-2.0..2.0),
            b + rng.random_range(-2.0..2.0),
        ];
        let long = length(board);
        for slice in 0..a_board.min(strips - board * a_board) {
            at[0] += rng.random_range(-0.7..0.7);
            at[1] += rng.random_range(-0.25..0.25);
            at[2] += rng.random_range(-0.3..0.3);
            stock.strips.push(Strip::plain(
                format!("{name}-{:02}", slice + 1),
                Some(Origin {
                    board: BoardId(board),
                    seq: slice as u32 + 1,
                }),
                mm(long),
                Colour::lab(
                    (at[0] * 10.0).round() / 10.0,
                    (at[1] * 10.0).round() / 10.0,
                    (at[2] * 10.0).round() / 10.0,
                ),
            ));
        }
        stock.boards.push(name);
    }
    stock
}

/// A job in which nothing is laid, weighed or wanted otherwise than usual.
pub fn job(name: &str, hull: Hull, stock: Stock, rules: Rules) -> Job {
    Job {
        name: name.to_string(),
        unit: Unit::Mm,
        hull,
        stock,
        rules,
        weights: Weights::default(),
        wants: Vec::new(),
        laid: Vec::new(),
        earlier: None,
    }
}

/// One piece a course: so many courses, so many pairs, every strip long enough for every course; ten strips a board.
pub fn full_length(courses_wanted: u32, pairs: usize, seed: u64) -> Job {
    full_length_from(courses_wanted, pairs, 10, seed)
}

/// The same with so many strips a board.
pub fn full_length_from(courses_wanted: u32, pairs: usize, a_board: usize, seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let hull = Hull {
        panels: vec![panel("side")],
        courses: courses(0, courses_wanted, 4800.0, 15.0),
        ..Hull::default()
    };
    let stock = boards(&mut rng, 2 * pairs, a_board, |_| 5000.0);
    let mut rules = rules();
    rules.joints.most = 0;
    job("full length", hull, stock, rules)
}

/// The same job with two joints allowed in each course.
fn with_joints(mut job: Job) -> Job {
    job.rules.joints.most = 2;
    job
}

/// A job of one panel with its last courses running out, at these parts of the boat's length.
pub fn run_outs(mut job: Job, parts: &[f64]) -> Job {
    let first = job.hull.courses.len().saturating_sub(parts.len());
    for (at, part) in (first..job.hull.courses.len()).zip(parts) {
        let half = 2400.0 * part;
        job.hull.courses[at] = course(0, at as u32 + 1, 2400.0 - half, 2400.0 + half);
    }
    job.name = "run-outs".into();
    job
}

/// The same job with a second panel of the same courses.
pub fn with_second_panel(mut job: Job) -> Job {
    job.hull.panels.push(panel("bottom"));
    let second = job.hull.courses.clone().into_iter();
    let second = second.map(|first| Course {
        panel: PanelId(1),
        ..first
    });
    job.hull.courses.extend(second.collect::<Vec<_>>());
    job
}

/// How the last courses of a small boat may run out.
const EIGHT: [f64; 8] = [0.78, 0.70, 0.62, 0.54, 0.46, 0.38, 0.30, 0.22];
const SIX: &[f64] = EIGHT.split_at(2).1;

/// Twenty courses from short stock: every course has a joint, one zone is kept clear.
pub fn short_stock(courses_wanted: u32, seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x5107);
    let hull = Hull {
        panels: vec![panel("side")],
        courses: courses(0, courses_wanted, 4800.0, 15.0),
        forms: Vec::new(),
        keep_clear: vec![Zone {
            name: Some("midships".into()),
            panel: PanelId(0),
            courses: None,
            from: X::from_mm(2100.0),
            to: X::from_mm(2700.0),
        }],
        show: Vec::new(),
    };
    let lengths: Vec<f64> = (0..400).map(|_| rng.random_range(2600.0..3600.0)).collect();
    let stock = boards(&mut rng, courses_wanted as usize * 5, 10, |board| {
        lengths[board]
    });
    job("short stock", hull, stock, rules())
}

/// Three panels, about fifty courses, defects, bead-and-cove edges, some short stock.
pub fn three_panels(seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x3a3a);
    let mut all = courses(0, 20, 5200.0, 20.0);
    all.extend(courses(1, 18, 4900.0, 60.0));
    all.extend(courses(2, 12, 3800.0, 120.0));
    let last = all.len() - 1;
    all[last].kind = Kind::Centre;
    let mut panels = vec![panel("topside"), panel("bottom"), panel("deck")];
    panels[2].toward = Toward::Deck;
    panels[2].look = 2.0;
    let clear = |panel, from, to| Zone {
        name: None,
        panel: PanelId(panel),
        courses: None,
        from: X::from_mm(from),
        to: X::from_mm(to),
    };
    let hull = Hull {
        panels,
        courses: all,
        forms: Vec::new(),
        keep_clear: vec![clear(0, 1800.0, 3000.0), clear(2, 0.0, 1200.0)],
        show: vec![Show {
            zone: clear(0, 0.0, 1500.0),
            times: 2.0,
        }],
    };
    let lengths: Vec<f64> = (0..100)
        .map(|i| {
            if i % 4 == 3 {
                rng.random_range(2800.0..3600.0)
            } else {
                5400.0
            }
        })
        .collect();
    let mut stock = boards(&mut rng, 144, 12, |board| lengths[board]);
    for strip in &mut stock.strips {
        if rng.random_bool(0.12) {
            let at = rng
                .random_range(300.0..strip.length.mm() - 300.0f64)
                .round();
            let long = if rng.random_bool(0.5) { 0.0 } else { 60.0 };
            strip.defects.push(Defect {
                from: U::from_mm(at),
                to: U::from_mm(at + long),
            });
        }
    }
    let rules = Rules {
        edges: Edges::BeadAndCove { next_edge: Edge::A },
        ..rules()
    };
    job("three panels", hull, stock, rules)
}

/// A boat planked backwards, whose best plan is known: in each of nine panels of four courses a fore board and an after
/// board lie beside each other, all slices of one colour and in register, joined where they overlap. They are cut apart
/// again and shuffled among spare boards of the same colours.
///
/// No plan costs less than [`PLANTED`]:
///
/// - No strip reaches along a course, so each has a joint, at 2. No strip holds two of the shortest pieces, so none
///   serves twice: two strips to a side, at a quarter each.
/// - Joints of neighbours keep clear by 0.3 m. Between them a fore piece lies beside an after piece, on both sides of
///   the boat. That is a step of a half: what a change of boards costs, and what figure costs that is a metre out of
///   register. A fore piece and an after piece of one board always are: strips are shorter than the courses by more.
/// - A second joint in a course costs more than its two seams could save by it. No other term is below nothing.
///
/// The plan that the boards were cut from costs just that. Its slices lie in their order, in register and in one
/// colour, and its joints move aft by 0.3 m from course to course.
pub fn planted(seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x91a7);
    let (panels, a_panel, shortest) = (9, 4, 1500.0);
    let mut rules = rules();
    rules.joints.shortest_piece = mm(shortest);
    let scarf = rules.joints.slope * rules.thickness.mm();
    let allowed = 2.0 * rules.allow.fitted_end.mm();
    let overlap = f64::from(a_panel - 1) * rules.joints.clear.mm();
    let longest = 2.0 * shortest - 10.0;
    let colours = [(72.0, 7.0, 24.0), (60.0, 11.0, 23.0), (79.0, 6.0, 21.0)];
    let (mut courses, mut boards) = (Vec::new(), Vec::new());
    for panel in 0..panels {
        let length = rng.random_range(4400.0..4900.0f64).round();
        courses.extend((1..=a_panel).map(|number| Course {
            length: mm(length),
            ..course(panel, number, 0.0, length)
        }));
        let both = length + allowed + scarf + overlap;
        let fore = rng.random_range(both - longest..longest).round();
        let spare = rng.random_range(2000.0..longest).round();
        let slices = 2 * a_panel;
        let colour = colours[panel % colours.len()];
        boards.extend([(fore, slices), (both - fore, slices), (spare, 6)].map(|cut| (cut, colour)));
    }
    boards.shuffle(&mut rng);
    let mut stock = Stock::default();
    for (board, ((length, slices), (l, a, b))) in boards.into_iter().enumerate() {
        let name = format!("{:03}", board + 1);
        stock.strips.extend((1..=slices).map(|seq| {
            let origin = Origin {
                board: BoardId(board),
                seq,
            };
            let colour = Colour::lab(l, a, b);
            Strip::plain(format!("{name}-{seq:02}"), Some(origin), mm(length), colour)
        }));
        stock.boards.push(name);
    }
    let hull = Hull {
        panels: (1..=panels)
            .map(|at| panel(&format!("panel {at}")))
            .collect(),
        courses,
        ..Hull::default()
    };
    let mut job = job("planted", hull, stock, rules);
    job.weights.board = job.weights.shift;
    job
}

/// What the best plan of a [`planted`] boat costs: for each of 36 courses a joint and four strips cut into, and for
/// each of 27 seams 0.3 m at a half on two sides. Unit: ΔE00·metre.
pub const PLANTED: f64 = 36.0 * (2.0 + 4.0 * 0.25) + 27.0 * 0.3 * 0.5 * 2.0;

/// Long courses in two panels from stock that needs two or three joints in each; five strips for each course.
pub fn big(courses_wanted: u32, seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0xb16);
    let half = courses_wanted / 2;
    let mut all = courses(0, half, 12000.0, 4.0);
    all.extend(courses(1, courses_wanted - half, 11800.0, 6.0));
    let hull = Hull {
        panels: vec![panel("topside"), panel("bottom")],
        courses: all,
        ..Hull::default()
    };
    let strips = courses_wanted as usize * 5;
    let lengths: Vec<f64> = (0..strips)
        .map(|_| rng.random_range(4400.0..7200.0))
        .collect();
    let stock = boards(&mut rng, strips, 12, |board| lengths[board]);
    let mut rules = rules();
    rules.joints.most = 3;
    job("big", hull, stock, rules)
}

/// So many mirrored courses and strips, in one piece or with a joint.
pub fn long_boat(courses_wanted: u32, strips: usize, seed: u64) -> Job {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x10b0);
    let a_panel = courses_wanted / 3;
    let mut all = Vec::new();
    for p in 0..3 {
        all.extend(courses(p, a_panel, 6000.0 - 300.0 * p as f64, 8.0));
    }
    let hull = Hull {
        panels: vec![panel("topside"), panel("bilge"), panel("bottom")],
        courses: all,
        ..Hull::default()
    };
    let lengths: Vec<f64> = (0..strips)
        .map(|i| {
            if i % 3 == 2 {
                rng.random_range(3200.0..4200.0)
            } else {
                6200.0
            }
        })
        .collect();
    let stock = boards(&mut rng, strips, 12, |board| lengths[board]);
    job("long boat", hull, stock, rules())
}

/// A job by the name of its kind.
pub fn by_name(kind: &str, seed: u64) -> Option<Job> {
    Some(match kind {
        "24x30" => full_length(24, 30, seed),
        "40x50" => full_length(40, 50, seed),
        "80x100" => full_length(80, 100, seed),
        // Two joints allowed in each course, though none is needed.
        "24x30joints" => with_joints(full_length(24, 30, seed)),
        "40x50joints" => with_joints(full_length(40, 50, seed)),
        // The last six courses run out.
        "24x30runs" => run_outs(full_length(24, 30, seed), SIX),
        "40x50runs" => run_outs(full_length(40, 50, seed), SIX),
        "24x30runs8" => run_outs(full_length(24, 30, seed), &EIGHT),
        // Two panels of fifteen courses.
        "30x40two" => with_second_panel(run_outs(full_length(15, 40, seed), &EIGHT[4..])),
        // Two of twenty, of which six run out on each.
        "40x50two" => with_second_panel(run_outs(full_length(20, 50, seed), SIX)),
        // From broad boards.
        "24x30of16" => full_length_from(24, 30, 16, seed),
        "40x50of16" => full_length_from(40, 50, 16, seed),
        "short" => short_stock(20, seed),
        // 120 strips each.
        "short24" => short_stock(24, seed),
        "big24" => big(24, seed),
        "three" => three_panels(seed),
        "planted" => planted(seed),
        "big50" => big(50, seed),
        "big" => big(250, seed),
        "big500" => big(500, seed),
        "long" => long_boat(300, 1300, seed),
        _ => return None,
    })
}
