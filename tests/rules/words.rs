//! What the builder reads when a rule is broken.
//!
//! The fixture is that of `edges`: one course of 4000 mm, a joint at 2000, pieces of 2049 mm of oak.

use twinstrake::check::check;
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Edge, Face, Piece, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{Colour, S, Unit};

use super::common::{Builder, Cut, boat, complete, lay_course, mm};

type Change = fn(&mut Piece);

fn oak() -> Builder {
    boat()
        .panel("topside", Toward::Keel)
        .board("oak", 6, 3000.0, 5)
        .course(0.0, 4000.0)
}

fn rows(job: &Job) -> Vec<Piece> {
    let pair = |a: &str, b: &str| Cut::pair(job, a, b, 0.0);
    let cuts = [pair("oak-01", "oak-02"), pair("oak-03", "oak-04")];
    lay_course(job, CourseId(0), &[S::from_mm(2000.0)], &cuts)
}

fn said(job: &Job, rows: Vec<Piece>) -> Vec<String> {
    let plan: Plan = complete(job, rows);
    check(job, &plan)
        .breaches
        .iter()
        .map(|breach| breach.to_string())
        .collect()
}

#[test]
fn a_scarf_in_a_named_zone_says_by_how_much() {
    let job = oak().keep_clear("mast step", 2006.0, 2400.0).build();
    assert_eq!(
        said(&job, rows(&job)),
        [
            "topside course 1, port, joint 1: the scarf reaches 18 mm into the zone kept clear \"mast step\" (rule 5).",
            "topside course 1, starboard, joint 1: the scarf reaches 18 mm into the zone kept clear \"mast step\" \
            (rule 5).",
        ]
    );
}

#[test]
fn an_unnamed_zone_is_told_by_its_edges_in_the_unit_of_the_job() {
    // 2006.6 mm is 79 in; the scarf ends at 2024 mm, 17.4 mm into it: 11/16 in.
    let job = oak()
        .keep_clear("", 25.4 * 79.0, 25.4 * 90.0)
        .unit(Unit::Inch)
        .build();
    assert_eq!(
        said(&job, rows(&job))[0],
        "topside course 1, port, joint 1: the scarf reaches 11/16\" into the zone kept clear from 79\" to 90\" (rule \
        5)."
    );
}

#[test]
fn an_end_that_is_used_and_a_knot_that_is_too_near_are_told_with_what_is_asked() {
    // Cut from 0 to 2049 mm; oak-01 has a knot 4 mm behind that.
    let mut job = oak().build();
    job.rules.allow.end_trim = mm(25.0);
    job.rules.allow.defect = mm(10.0);
    let knot = |at: f64| twinstrake::units::U::from_mm(at);
    job.stock.strips[0].defects = vec![twinstrake::stock::Defect {
        from: knot(2053.0),
        to: knot(2080.0),
    }];
    let said = said(&job, rows(&job));
    for words in [
        "topside course 1, port, piece 1: the piece takes 25 mm of the 25 mm that are left at the marked end of strip \
         oak-01 (rule 3).",
        "topside course 1, port, piece 1: the piece comes 6 mm too near the defect from 2053 mm to 2080 mm in strip \
         oak-01; 10 mm is to be kept clear (rule 3).",
    ] {
        assert!(said.iter().any(|line| line == words), "{said:#?}");
    }
}

#[test]
fn a_hair_is_told_in_full() {
    let job = oak().build();
    let mut rows = rows(&job);
    rows[0].cut_to = rows[0].cut_to + mm(0.25);
    assert_eq!(
        said(&job, rows),
        [
            "topside course 1, port, piece 1: strip oak-01 and its mate oak-02 come from one board but are cut 0.25 \
            mm out of register (rule 2).",
            "topside course 1, port, piece 1: strip oak-01 is cut 0.25 mm longer than the place it fills (rule 3).",
        ]
    );
}

#[test]
fn a_missing_piece_is_missed_by_its_number() {
    let job = oak().build();
    let mut rows = rows(&job);
    rows.retain(|piece| piece.side == Side::Starboard || piece.number == 2);
    let said = said(&job, rows);
    let missing = "topside course 1, port: piece 1 is missing (rule 1).";
    assert!(said.iter().any(|line| line == missing), "{said:#?}");
    let short = "topside course 1, port, piece 2: strip oak-03 ends 2001 mm short of the bow end of the course with \
        its allowance (rule 1).";
    assert!(said.iter().any(|line| line == short), "{said:#?}");
    let uneven = "topside course 1: 1 piece to port but 2 to starboard (rule 2).";
    assert!(said.iter().any(|line| line == uneven), "{said:#?}");
}

#[test]
fn a_defect_names_the_strip_and_where_it_lies() {
    let job = boat().panel("topside", Toward::Keel).course(0.0, 4000.0);
    let job = job
        .strip("oak-01", "oak", 1, 3000.0, Colour::shade(5))
        .defect(2000.0, 2060.0);
    let job = (2..=4).fold(job, |job, seq| {
        job.strip(
            &format!("oak-{seq:02}"),
            "oak",
            seq,
            3000.0,
            Colour::shade(5),
        )
    });
    let job = job.build();
    assert_eq!(
        said(&job, rows(&job)),
        [
            "topside course 1, port, piece 1: the piece reaches 49 mm into the defect from 2000 mm to 2060 mm in \
            strip oak-01 (rule 3)."
        ]
    );
}

#[test]
fn a_wrong_face_names_both_mates() {
    let job = oak().build();
    let mut rows = rows(&job);
    rows[0].face_out = Face::Low;
    assert_eq!(
        said(&job, rows),
        [
            "topside course 1, port, piece 1: strip oak-01 can't lie like this: with this end to the bow and this \
            face out, edge B looks to the next course (rule 8).",
            "topside course 1, port, piece 1: strip oak-01 must show its high face to match its mate oak-02 from the \
            same board (rule 8).",
        ]
    );
}

#[test]
fn what_is_laid_already_says_what_changed() {
    let mut job = oak().build();
    let laid = rows(&job);
    job.laid = vec![laid[0].clone()];
    let mut rows = laid;
    for piece in &mut rows[..2] {
        piece.cut_from = piece.cut_from + mm(30.0);
        piece.cut_to = piece.cut_to + mm(30.0);
    }
    assert_eq!(
        said(&job, rows),
        [
            "topside course 1, port, piece 1: strip oak-01 is laid here already, but the plan changes its cut_from, \
            cut_to (rule 9)."
        ]
    );
}

#[test]
fn pieces_are_counted_from_one() {
    let job = oak().build();
    let mut rows = rows(&job);
    rows.retain(|piece| piece.number == 1);
    for piece in &mut rows {
        piece.number = 0;
    }
    let said = said(&job, rows);
    let zero = "topside course 1, port, piece 0: pieces are numbered from 1 (rule 1).";
    assert!(said.iter().any(|line| line == zero), "{said:#?}");
}

#[test]
fn whatever_changes_about_a_laid_piece_is_named() {
    let changes: [(&str, Change); 8] = [
        ("strip", |piece| piece.strip = StripId(5)),
        ("from", |piece| piece.from = piece.from - mm(1.0)),
        ("to", |piece| piece.to = piece.to + mm(1.0)),
        ("cut_from", |piece| {
            piece.cut_from = piece.cut_from + mm(1.0)
        }),
        ("cut_to", |piece| piece.cut_to = piece.cut_to + mm(1.0)),
        ("bow_end", |piece| piece.bow_end = BowEnd::Plain),
        ("next_edge", |piece| piece.next_edge = Edge::B),
        ("face_out", |piece| piece.face_out = Face::Low),
    ];
    for (column, change) in changes {
        let mut job = oak().build();
        let mut rows = rows(&job);
        rows[0].next_edge = Edge::A;
        job.laid = vec![rows[0].clone()];
        change(&mut rows[0]);
        let named = format!(
            "topside course 1, port, piece 1: strip oak-01 is laid here already, but the plan changes its {column} \
            (rule 9)."
        );
        let said = said(&job, rows);
        assert!(said.contains(&named), "{said:#?}");
    }
}

#[test]
fn a_laid_piece_may_get_another_mate() {
    // Its mate broke before it was laid: course 1 keeps strip 1 on port, and strip 5 of another board lies to
    // starboard.
    let mut job = oak().build();
    let mut rows = rows(&job);
    job.laid = vec![rows[0].clone()];
    let mate = rows
        .iter()
        .position(|row| Some(row.strip) == rows[0].mate)
        .unwrap();
    rows[0].mate = Some(StripId(5));
    rows[mate].strip = StripId(5);
    let said = said(&job, rows);
    assert!(
        said.iter().all(|line| !line.contains("(rule 9)")),
        "{said:#?}"
    );
}

#[test]
fn a_piece_without_length_is_called_that_on_the_boat_and_on_the_strip() {
    let changes: [Change; 2] = [
        |piece| piece.to = piece.from,
        |piece| piece.cut_to = piece.cut_from,
    ];
    for change in changes {
        let job = oak().build();
        let mut rows = rows(&job);
        change(&mut rows[0]);
        let nothing = "topside course 1, port, piece 1: the piece of strip oak-01 ends where it begins, or before \
            (rule 3).";
        let said = said(&job, rows);
        assert!(said.iter().any(|line| line == nothing), "{said:#?}");
    }
}

#[test]
fn wood_that_is_not_wanted_names_the_want_and_what_it_asks_for() {
    let job = oak().want("dark line", (1, 1), |want| {
        want.wood = Some("walnut".into());
        want.boards = vec!["N".into()];
        want.strips = vec!["oak-02".into(), "oak-03".into(), "oak-04".into()];
    });
    let job = job.build();
    assert_eq!(
        said(&job, rows(&job)),
        [
            "topside course 1, port, piece 1: strip oak-01 lies where the want \"dark line\" asks for walnut, board N, \
            strips oak-02, oak-03 or oak-04 (rule 10)."
        ]
    );
}

#[test]
fn wood_that_is_kept_for_another_course_and_a_pair_the_wrong_way_across_name_their_wants() {
    let boat = oak().course(0.0, 2900.0);
    let boat = boat.want("best pair", (2, 2), |want| {
        want.strips = vec!["oak-03".into(), "oak-06".into()];
        want.keep = true;
    });
    let job = boat
        .want("line", (1, 1), |want| want.boards = vec!["oak".into()])
        .build();
    let mut plan = rows(&job);
    plan.retain(|piece| piece.number == 2 && piece.side == Side::Port);
    let kept = "strip oak-03 is kept for the want \"best pair\" and may not lie here (rule 10).";
    let told = said(&job, plan);
    assert!(told.iter().any(|line| line.ends_with(kept)), "{told:#?}");

    let boat = boat_of_a_pair().want("best pair", (1, 1), |want| {
        want.strips = vec!["oak-01".into(), "oak-02".into()];
        want.port = Some("oak-02".into());
    });
    let job = boat.build();
    let pair = [Cut::pair(&job, "oak-01", "oak-02", 0.0)];
    assert_eq!(
        said(&job, lay_course(&job, CourseId(0), &[], &pair)),
        [
            "topside course 1, port, piece 1: the want \"best pair\" asks for strip oak-01 to starboard (rule 10).",
            "topside course 1, starboard, piece 1: the want \"best pair\" asks for strip oak-02 to port (rule 10).",
        ]
    );
}

fn boat_of_a_pair() -> Builder {
    boat()
        .panel("topside", Toward::Keel)
        .board("oak", 2, 3000.0, 5)
        .course(0.0, 2900.0)
}
