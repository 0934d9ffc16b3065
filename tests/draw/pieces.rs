//! Pieces: all of them, in their colours, mirrored, joined where the plan joins them.

use twinstrake::hull::Side;
use twinstrake::units::S;

use super::common::mm;
use super::reader::{groups, span};
use super::{drawn, random_plans, small_boat};

#[test]
fn every_piece_of_the_plan_is_drawn_once_in_its_own_colour() {
    for (job, plan) in random_plans().chain([small_boat()]) {
        let svg = drawn(&job, &plan);
        let pieces = groups(&svg, "piece");
        let mut seen: Vec<[String; 5]> = pieces
            .iter()
            .map(|p| {
                let [panel, course, side, piece] = p.place(p.fact("side"));
                [panel, course, side, piece, p.fact("strip").to_owned()]
            })
            .collect();
        let mut asked: Vec<[String; 5]> = plan
            .pieces
            .iter()
            .map(|p| {
                [
                    job.hull.panel_of(p.course).name.clone(),
                    job.hull.course(p.course).number.to_string(),
                    p.side.name().into(),
                    p.number.to_string(),
                    job.stock.strip(p.strip).name.clone(),
                ]
            })
            .collect();
        seen.sort();
        asked.sort();
        assert_eq!(seen, asked);
        for piece in &pieces {
            let mut strips = job.stock.strips.iter();
            let strip = strips.find(|s| s.name == piece.fact("strip")).unwrap();
            let [r, g, b] = strip.colour.to_srgb();
            assert_eq!(piece.fill, Some(format!("#{r:02x}{g:02x}{b:02x}")));
        }
    }
}

#[test]
fn port_and_starboard_mirror_each_other_about_the_centreline() {
    let mut mirrored = 0;
    for (job, plan) in random_plans().chain([small_boat()]) {
        let svg = drawn(&job, &plan);
        let pieces = groups(&svg, "piece");
        let line = &groups(&svg, "centreline")[0].lines[0];
        let centre = line[0].1;
        for port in pieces.iter().filter(|p| p.fact("side") == "port") {
            let there = port.place("starboard");
            let mut mates = pieces.iter().filter(|p| p.place(p.fact("side")) == there);
            let mate = mates.next().unwrap();
            for (one, other) in port.outlines[0].iter().zip(&mate.outlines[0]) {
                assert!(one.1 < centre, "port lies above the centreline");
                assert!((one.0 - other.0).abs() < 0.002, "{one:?} {other:?}");
                assert!((one.1 + other.1 - 2.0 * centre).abs() < 0.003);
            }
            mirrored += 1;
        }
    }
    assert!(mirrored > 100, "only {mirrored} pairs were looked at");
}

#[test]
fn a_joint_lies_at_its_place_on_the_boat_and_is_as_long_as_its_scarf() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let pieces = groups(&svg, "piece");
    let of = |number: &str| {
        let there = ["topside", "1", "port", number].map(str::to_owned);
        let piece = pieces.iter().find(|p| p.place(p.fact("side")) == there);
        piece.unwrap().outlines[0].clone()
    };
    let (forward, after) = (of("1"), of("2"));
    let ((bow, _), (_, stern)) = (span(&forward, |p| p.0), span(&after, |p| p.0));
    // 4400 mm of skin lie over 4000 mm of boat: the joint at s = 2200 is at x = 2000, half way; the scarf is 8 × 6 = 48
    // mm of skin, 43.6 mm of boat.
    let paper = |boat: f64| boat / 4000.0 * (stern - bow);
    let (upper, lower) = (forward[1].0, forward[2].0);
    assert!(((upper + lower) / 2.0 - bow - paper(2000.0)).abs() < 0.002);
    assert!((lower - upper - paper(48.0 / 1.1)).abs() < 0.003);
    assert_eq!(
        (after[0].0, after[3].0),
        (upper, lower),
        "they share the scarf"
    );
}

#[test]
fn the_same_plan_is_the_same_drawing() {
    let (job, plan) = small_boat();
    assert_eq!(drawn(&job, &plan), drawn(&job, &plan));
}

#[test]
fn a_plan_with_breaches_is_drawn_and_says_so() {
    let (job, mut plan) = small_boat();
    plan.pieces.retain(|p| p.side != Side::Starboard);
    plan.pieces[0].to = S::at(mm(-1e7));
    plan.pieces[0].number = 0;
    let svg = drawn(&job, &plan);
    let heading = &groups(&svg, "heading")[0];
    assert!(
        heading
            .words
            .iter()
            .any(|w| w.text.starts_with("Not a good plan"))
    );
    assert_eq!(groups(&svg, "piece").len(), plan.pieces.len());
}
