//! Random jobs over the whole model, from a seed: panels, courses, zones, boards and rules, each drawn by a small
//! function of its own.

use proptest::prelude::{Strategy, any};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::hull::{Drift, End, Kind, LayOrder, Shade, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Edge, Edges, Want, Weights};
use twinstrake::units::{Colour, Unit};

use super::builder::{Builder, boat, mm};

/// How large a random job is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Size {
    /// One to four courses: small enough to try every plan.
    Tiny,
    /// Up to a dozen courses.
    Small,
    /// Up to three dozen courses.
    Medium,
}

/// A random job of this size for a test with proptest. It is told by its seed.
pub fn any_job(size: Size) -> impl Strategy<Value = Job> {
    any::<u64>().prop_map(move |seed| random_job(seed, size))
}

/// A random job: the same seed gives the same job.
pub fn random_job(seed: u64, size: Size) -> Job {
    let mut rng = Pcg64::seed_from_u64(seed);
    let rng = &mut rng;
    let panels = rng.random_range(1..=if size == Size::Tiny { 2 } else { 3 });
    let boat = some_rules(rng, boat());
    let mut boat = some_weights(rng, boat);
    if one_in(rng, 5) {
        boat = boat.unit(Unit::Inch);
    }
    let longest = whole(rng, 1500, 5000);
    let mut runs = 0;
    for name in &["topside", "bilge", "deck"][..panels] {
        let courses = match size {
            Size::Tiny => rng.random_range(1..=2),
            Size::Small => rng.random_range(1..=4),
            Size::Medium => rng.random_range(3..=12),
        };
        boat = a_panel(rng, boat, name);
        for number in 1..=courses {
            let centre = if number == courses {
                one_in(rng, 3)
            } else {
                one_in(rng, 12)
            };
            runs += if centre { 1 } else { 2 };
            boat = a_course(rng, boat, longest, centre);
        }
        boat = some_zones(rng, boat, longest, courses);
    }
    let mut job = a_rack(rng, boat, longest, runs).build();
    // Dice of their own: the boats stay those that they were.
    some_wants(&mut Pcg64::seed_from_u64(seed ^ 0x77a2), &mut job);
    let dice = &mut Pcg64::seed_from_u64(seed ^ 0x3e4d);
    if one_in(dice, 3) {
        job.rules.allow.defect = mm(one_of(dice, &[0.0, 5.0, 12.5]));
        job.rules.allow.end_trim = mm(one_of(dice, &[0.0, 10.0, 25.4]));
    }
    job
}

/// Now and then wants, accents and drift; some of them can't be met.
fn some_wants(rng: &mut Pcg64, job: &mut Job) {
    let kinds = ["spruce", "cedar", "Walnut"];
    let of_board: Vec<&str> = job
        .stock
        .boards
        .iter()
        .map(|_| one_of(rng, &kinds))
        .collect();
    for strip in &mut job.stock.strips {
        strip.wood = strip
            .origin
            .map_or("", |origin| of_board[origin.board.0])
            .into();
    }
    for panel in &mut job.hull.panels {
        panel.drift = one_in(rng, 3).then(|| Drift {
            shade: one_of(rng, &[Shade::Darker, Shade::Lighter]),
            against: one_of(rng, &[0.5, 1.0, 3.0]),
        });
    }
    let wants = if one_in(rng, 2) {
        0
    } else {
        rng.random_range(1..=2)
    };
    for number in 0..wants {
        let want = a_want(rng, job, number);
        job.wants.push(want);
    }
}

fn a_want(rng: &mut Pcg64, job: &Job, number: usize) -> Want {
    let course = &job.hull.courses[rng.random_range(0..job.hull.courses.len())];
    let last = job
        .hull
        .courses
        .iter()
        .filter(|other| other.panel == course.panel);
    let last = last
        .map(|other| other.number)
        .max()
        .unwrap_or(course.number);
    let until = rng.random_range(course.number..=last.min(course.number + 2));
    let courses = (!one_in(rng, 6)).then_some((course.number, until));
    let mut want = Want {
        name: format!("wish {number}"),
        panel: course.panel,
        courses,
        wood: None,
        boards: Vec::new(),
        strips: Vec::new(),
        keep: one_in(rng, 2),
        accent: one_in(rng, 2).then(|| one_of(rng, &[4.0, 12.0, 30.0])),
        port: None,
    };
    match rng.random_range(0..3) {
        0 => want.wood = Some(one_of(rng, &["spruce", "Cedar", "walnut"]).into()),
        1 => {
            want.boards =
                vec![job.stock.boards[rng.random_range(0..job.stock.boards.len())].clone()]
        }
        _ => {
            let first = rng.random_range(0..job.stock.strips.len());
            let some = job.stock.strips[first..]
                .iter()
                .take(rng.random_range(1..=4));
            want.strips = some.map(|strip| strip.name.clone()).collect();
            if want.strips.len() == 2 && course.kind == Kind::Mirrored && one_in(rng, 2) {
                want.courses = Some((course.number, course.number));
                want.port = want.strips.first().cloned();
            }
        }
    }
    want
}

fn one_in(rng: &mut Pcg64, many: u32) -> bool {
    rng.random_range(0..many) == 0
}

fn one_of<T: Copy>(rng: &mut Pcg64, choice: &[T]) -> T {
    choice[rng.random_range(0..choice.len())]
}

/// A whole number of millimetres.
fn whole(rng: &mut Pcg64, least: i32, most: i32) -> f64 {
    f64::from(rng.random_range(least..=most))
}

fn some_rules(rng: &mut Pcg64, boat: Builder) -> Builder {
    boat.rules(|rules| {
        rules.thickness = mm(one_of(rng, &[5.0, 6.0, 6.35, 7.0]));
        rules.edges = one_of(
            rng,
            &[
                Edges::Square,
                Edges::Square,
                Edges::BeadAndCove { next_edge: Edge::A },
                Edges::BeadAndCove { next_edge: Edge::B },
            ],
        );
        rules.joints.slope = one_of(rng, &[6.0, 8.0, 10.0, 12.0, 7.5]);
        rules.joints.clear = mm(whole(rng, 60, 400));
        rules.joints.clear_courses = rng.random_range(0..=3);
        rules.joints.shortest_piece = mm(whole(rng, 300, 900));
        rules.joints.most = one_of(rng, &[0, 1, 2, 2, 3]);
        rules.allow.fitted_end = mm(one_of(rng, &[0.0, 20.0, 25.0]));
        rules.allow.free_end = mm(one_of(rng, &[30.0, 50.0]));
        rules.allow.saw = mm(one_of(rng, &[0.0, 2.0, 3.0]));
    })
}

fn some_weights(rng: &mut Pcg64, boat: Builder) -> Builder {
    if one_in(rng, 3) {
        let mut draw = |most: f64| rng.random_range(0.0..most);
        return boat.weights(|weights| {
            *weights = Weights {
                board: draw(4.0),
                skip: draw(1.5),
                shift: draw(2.0),
                foster: draw(20.0),
                joint: draw(4.0),
                cut: draw(1.0),
                relabel: draw(2.0),
            };
        });
    }
    boat
}

fn a_panel(rng: &mut Pcg64, boat: Builder, name: &str) -> Builder {
    let orders = [
        LayOrder::Alternate,
        LayOrder::PortFirst,
        LayOrder::StarboardFirst,
    ];
    boat.panel(name, one_of(rng, &[Toward::Keel, Toward::Deck]))
        .look(one_of(rng, &[1.0, 1.0, 0.5, 2.0]))
        .lay(one_of(rng, &orders))
}

fn a_course(rng: &mut Pcg64, boat: Builder, longest: f64, centre: bool) -> Builder {
    let from = whole(rng, 0, (longest * 0.2) as i32);
    let to = longest - whole(rng, 0, (longest * 0.2) as i32);
    // Now and then a short course, such as fills in at the turn of the bilge.
    let to = if one_in(rng, 6) {
        from + whole(rng, 250, 900)
    } else {
        to
    };
    let boat = if centre {
        boat.centre(from, to)
    } else {
        boat.course(from, to)
    };
    let boat = if one_in(rng, 3) {
        boat
    } else {
        boat.skin(((to - from) * rng.random_range(1.0..1.06)).round())
    };
    let ends = [End::Fitted, End::Fitted, End::Free];
    boat.ends(one_of(rng, &ends), one_of(rng, &ends))
}

fn some_zones(rng: &mut Pcg64, mut boat: Builder, longest: f64, courses: u32) -> Builder {
    for name in &["mast step", "", "frame"][..rng.random_range(0..=2)] {
        let (courses, from, to) = a_stretch(rng, longest, courses);
        boat = boat.keep_clear_on(name, courses, from, to);
    }
    for _ in 0..rng.random_range(0..=2) {
        let (courses, from, to) = a_stretch(rng, longest, courses);
        boat = boat.show_on(courses, from, to, one_of(rng, &[0.0, 0.5, 2.0, 3.0]));
    }
    boat
}

fn a_stretch(rng: &mut Pcg64, longest: f64, courses: u32) -> (Option<(u32, u32)>, f64, f64) {
    let first = rng.random_range(1..=courses);
    let some = Some((first, rng.random_range(first..=courses)));
    let from = whole(rng, 0, (longest * 0.8) as i32);
    let to = from + whole(rng, 50, (longest * 0.4) as i32);
    (if one_in(rng, 2) { some } else { None }, from, to)
}

/// Wood for so many runs of planking: sometimes too little, sometimes too short to run through.
fn a_rack(rng: &mut Pcg64, mut boat: Builder, longest: f64, runs: usize) -> Builder {
    let plenty = one_of(rng, &[0.6, 1.0, 1.2, 1.5, 2.0]);
    let enough = ((runs as f64 * plenty).ceil() as usize).max(2);
    let mut strips = 0;
    for board in 1.. {
        if strips >= enough {
            break;
        }
        let slices = rng.random_range(2..=8);
        boat = a_board(rng, boat, &format!("board-{board:02}"), slices, longest);
        strips += slices as usize;
    }
    if one_in(rng, 3) {
        let colour = a_colour(rng, 5.0);
        for name in ["stray-1", "stray-2"] {
            boat = boat.stray(name, longest + whole(rng, -300, 200), colour);
            boat = some_defects(rng, boat, longest);
        }
    }
    boat
}

fn a_board(rng: &mut Pcg64, mut boat: Builder, name: &str, slices: u32, longest: f64) -> Builder {
    let short = one_in(rng, 3);
    let length = if short {
        longest * rng.random_range(0.45..0.95)
    } else {
        longest * 1.07 + 110.0 + whole(rng, 0, 400)
    };
    let length = length.round();
    let lightness = rng.random_range(0.0..8.0);
    let mut seq = 0;
    let mut seqs = Vec::new();
    for _ in 0..slices {
        // Now and then a slice was lost.
        seq += if one_in(rng, 8) { 2 } else { 1 };
        seqs.push(seq);
        let colour = a_colour(rng, lightness);
        let length = length - whole(rng, 0, 15);
        boat = boat.strip(&format!("{name}-{seq:02}"), name, seq, length, colour);
        boat = some_defects(rng, boat, length);
    }
    if one_in(rng, 4) {
        for two in seqs.chunks_exact(2) {
            let (one, other) = (two[0], two[1]);
            boat = boat.sisters(&format!("{name}-{one:02}"), &format!("{name}-{other:02}"));
        }
    }
    boat
}

/// A colour of wood near one of the nine shades (counted from 0 here, and between them too).
fn a_colour(rng: &mut Pcg64, lightness: f64) -> Colour {
    let near = |rng: &mut Pcg64| rng.random_range(-1.5..1.5);
    let t = lightness / 8.0;
    Colour::lab(
        34.0 + 50.0 * t + near(rng),
        16.0 - 12.0 * t + near(rng),
        20.0 + 4.0 * t + near(rng),
    )
}

fn some_defects(rng: &mut Pcg64, boat: Builder, length: f64) -> Builder {
    if one_in(rng, 25) {
        return boat.cull();
    }
    if !one_in(rng, 6) {
        return boat;
    }
    let from = whole(rng, 0, length as i32 - 80);
    if one_in(rng, 2) {
        boat.defect(from, from)
    } else {
        boat.defect(from, from + whole(rng, 5, 80))
    }
}
