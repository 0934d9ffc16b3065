//! What the builder wants, found by the search as well as it can be had.

use crate::common;

use common::{Builder, Size, boat, random_job};
use twinstrake::check::check;
use twinstrake::hull::{Shade, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Plan, Want};
use twinstrake::solve::{Asked, Outcome, Quiet, lay};
use twinstrake::units::{Colour, delta_e};

fn laid(job: &Job, rounds: u64) -> Outcome {
    let asked = Asked {
        rounds: Some(rounds),
        ..Asked::default()
    };
    let outcome = lay(job, &asked, &Quiet);
    let verdict = check(job, &outcome.plan);
    let said: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
    assert_eq!(said, Vec::<String>::new());
    outcome
}

fn in_one_piece(boat: Builder) -> Builder {
    boat.rules(|rules| rules.joints.most = 0)
}

/// Boards of four slices of one colour each, of one kind of wood.
fn boards(
    mut boat: Builder,
    wood: &str,
    many: usize,
    colours: impl Fn(usize) -> Colour,
) -> Builder {
    for n in 0..many {
        for seq in 1..=4 {
            let name = format!("{wood}{n:02}");
            boat = boat
                .strip(&format!("{name}-{seq}"), &name, seq, 3100.0, colours(n))
                .wood(wood);
        }
    }
    boat
}

fn spruce(n: usize) -> Colour {
    Colour::lab(80.0 - 0.7 * n as f64, 4.0, 20.0 + 0.3 * n as f64)
}

fn cedar(n: usize) -> Colour {
    Colour::lab(45.0 + 0.8 * n as f64, 15.0, 22.0)
}

fn half(wood: &str, colours: fn(usize) -> Colour, courses: usize) -> Job {
    let boat = in_one_piece(
        boat()
            .panel("side", Toward::Keel)
            .courses(courses, 0.0, 3000.0),
    );
    boards(boat, wood, courses / 2, colours).build()
}

fn two_woods(courses: usize) -> Job {
    let many = courses as u32;
    let boat = boat()
        .panel("side", Toward::Keel)
        .courses(2 * courses, 0.0, 3000.0);
    let boat = boat
        .want("light above", (1, many), |want| {
            want.wood = Some("spruce".into())
        })
        .want("dark below", (many + 1, 2 * many), |want| {
            want.wood = Some("cedar".into())
        });
    let boat = boards(in_one_piece(boat), "spruce", courses / 2, spruce);
    boards(boat, "cedar", courses / 2, cedar).build()
}

/// Colour of the strip on the last course, port.
fn colour_on(job: &Job, plan: &Plan, course: usize) -> Colour {
    let piece = plan
        .pieces
        .iter()
        .find(|piece| piece.course.0 == course)
        .unwrap();
    job.stock.strip(piece.strip).colour
}

#[test]
fn a_hull_of_two_woods_is_proven_best_at_the_sum_of_its_halves_and_the_seam_between() {
    let courses = 20;
    let (above, below) = (
        half("spruce", spruce, courses),
        half("cedar", cedar, courses),
    );
    let (above, below) = (laid(&above, 4), laid(&below, 4));
    let job = two_woods(courses);
    let whole = laid(&job, 4);
    assert!(whole.plan.uncovered.is_empty());
    let total = whole.cost.total();
    let bound = whole.bound.unwrap();
    assert!(
        (total - bound).abs() <= 1e-5 * total,
        "{total}, bound {bound}"
    );
    // Three metres on two sides, and a step between two boards.
    let (last, first) = (
        colour_on(&job, &whole.plan, courses - 1),
        colour_on(&job, &whole.plan, courses),
    );
    let between = 6.0 * (delta_e(last, first) + job.weights.board);
    let halves = above.cost.total() + below.cost.total();
    assert!(
        (total - halves - between).abs() <= 1e-6 * total,
        "{total}, halves {halves} and {between} between them"
    );
    // No two strips of the two woods are nearer to each other: giving up a little of a half would gain nothing.
    let nearest = delta_e(spruce(courses / 2 - 1), cedar(courses / 2 - 1));
    assert!((delta_e(last, first) - nearest).abs() < 1e-9);
}

#[test]
fn an_accent_of_the_only_two_walnut_strips_lies_where_it_is_wanted_and_is_proven_best() {
    let boat = in_one_piece(boat().panel("side", Toward::Keel).courses(6, 0.0, 3000.0));
    let boat = boat.drift(Shade::Darker, 1.0).want("line", (2, 2), |want| {
        want.wood = Some("walnut".into());
        want.keep = true;
        want.accent = Some(10.0);
    });
    let boat = boards(boat, "spruce", 4, spruce);
    let walnut = Colour::lab(38.0, 9.0, 18.0);
    let job = boat
        .strip("w1", "w", 1, 3100.0, walnut)
        .wood("walnut")
        .strip("w2", "w", 2, 3100.0, walnut)
        .wood("walnut")
        .build();
    let outcome = laid(&job, 3);
    assert!(outcome.plan.uncovered.is_empty());
    assert_eq!(colour_on(&job, &outcome.plan, 1), walnut);
    // From light to dark but for the line, which takes no part.
    assert_eq!(outcome.cost.drift, 0.0);
    let shades: Vec<f64> = [0, 2, 3, 4, 5]
        .map(|course| colour_on(&job, &outcome.plan, course).l)
        .to_vec();
    assert!(shades.is_sorted_by(|a, b| a >= b), "{shades:?}");
}

#[test]
fn wants_that_are_taken_out_again_leave_the_plan_as_if_they_had_never_been() {
    for seed in 0..3 {
        let mut job = random_job(seed, Size::Small);
        job.wants.clear();
        for panel in &mut job.hull.panels {
            panel.drift = None;
        }
        let mut with = job.clone();
        let course = &job.hull.courses[0];
        let name = job.stock.strips[0].name.clone();
        with.wants.push(Want {
            name: "wish".into(),
            panel: course.panel,
            courses: Some((course.number, course.number)),
            wood: None,
            boards: Vec::new(),
            strips: vec![name],
            keep: true,
            accent: Some(5.0),
            port: None,
        });
        let before = laid(&job, 0);
        laid(&with, 0);
        with.wants.clear();
        assert_eq!(laid(&with, 0), before, "seed {seed}");
    }
}
