//! The orientation algebra against 3×3 rotation matrices: wood turns, but is never reflected.
//!
//! The boat here: forward, to port and up are the three axes of space, in that order (forward × port = up).

use proptest::prelude::*;
use twinstrake::hull::{Side, Toward};
use twinstrake::plan::{BowEnd, Edge, Face, Facing, next_edge_sign};

type Vector = [f64; 3];
/// Columns: where the strip's axes u, high and A point on the boat.
type Matrix = [Vector; 3];

const FORWARD: Vector = [1.0, 0.0, 0.0];
const PORT: Vector = [0.0, 1.0, 0.0];
const UP: Vector = [0.0, 0.0, 1.0];

const SIDES: [Side; 3] = [Side::Port, Side::Starboard, Side::Centre];
const TOWARDS: [Toward; 2] = [Toward::Keel, Toward::Deck];
const ENDS: [BowEnd; 2] = [BowEnd::Mark, BowEnd::Plain];
const FACES: [Face; 2] = [Face::High, Face::Low];
const EDGES: [Edge; 2] = [Edge::A, Edge::B];

fn scaled(v: Vector, by: f64) -> Vector {
    v.map(|part| part * by)
}

fn sum(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn determinant(m: Matrix) -> f64 {
    dot(cross(m[0], m[1]), m[2])
}

/// Bow, outward and next course at a place on the planking, the planking leaning out by an angle from upright.
///
/// Toward the deck the next course is above. On a centre course "outward" is taken as to port: the model gives it
/// port's frame.
fn boat_axes(side: Side, toward: Toward, lean: f64) -> (Vector, Vector, Vector) {
    let abeam = match side {
        Side::Port | Side::Centre => PORT,
        Side::Starboard => scaled(PORT, -1.0),
    };
    let outward = sum(scaled(abeam, lean.cos()), scaled(UP, -lean.sin()));
    let above = sum(scaled(UP, lean.cos()), scaled(abeam, lean.sin()));
    let next = match toward {
        Toward::Deck => above,
        Toward::Keel => scaled(above, -1.0),
    };
    (FORWARD, outward, next)
}

/// Where the strip's axes point once it is laid. u runs from the marked end to the plain end.
fn laid(side: Side, toward: Toward, lean: f64, facing: Facing, next_edge: Edge) -> Matrix {
    let (bow, outward, next) = boat_axes(side, toward, lean);
    let u = match facing.bow_end {
        BowEnd::Mark => scaled(bow, -1.0),
        BowEnd::Plain => bow,
    };
    let high = match facing.face_out {
        Face::High => outward,
        Face::Low => scaled(outward, -1.0),
    };
    let a = match next_edge {
        Edge::A => next,
        Edge::B => scaled(next, -1.0),
    };
    [u, high, a]
}

#[test]
fn the_frames_of_the_boat_turn_as_the_model_says() {
    for side in SIDES {
        for toward in TOWARDS {
            let (bow, outward, next) = boat_axes(side, toward, 0.3);
            let turn = dot(cross(bow, outward), next);
            let h = f64::from(next_edge_sign(side, toward));
            assert!((turn - h).abs() < 1e-12, "{side:?} {toward:?}");
        }
    }
}

#[test]
fn exactly_the_allowed_ways_to_lay_a_strip_are_rotations() {
    // 3 sides × 2 ways × 8 combinations: all 48, of which 24 are rotations.
    let mut rotations = 0;
    for (side, toward) in SIDES.iter().flat_map(|s| TOWARDS.map(|t| (*s, t))) {
        for (bow_end, face_out) in ENDS.iter().flat_map(|e| FACES.map(|f| (*e, f))) {
            for edge in EDGES {
                let facing = Facing { bow_end, face_out };
                let m = laid(side, toward, 0.3, facing, edge);
                for i in 0..3 {
                    for j in 0..3 {
                        let expected = if i == j { 1.0 } else { 0.0 };
                        assert!((dot(m[i], m[j]) - expected).abs() < 1e-12);
                    }
                }
                let rotation = (determinant(m) - 1.0).abs() < 1e-12;
                let reflection = (determinant(m) + 1.0).abs() < 1e-12;
                assert!(rotation != reflection);
                let allowed = facing.next_edge(side, toward) == edge;
                assert_eq!(allowed, rotation, "{side:?} {toward:?} {facing:?} {edge:?}");
                rotations += usize::from(rotation);
            }
        }
    }
    assert_eq!(rotations, 24);
}

#[test]
fn a_strip_can_be_laid_with_any_end_to_the_bow_and_any_edge_to_the_next_course() {
    for (side, toward) in SIDES.iter().flat_map(|s| TOWARDS.map(|t| (*s, t))) {
        for (bow_end, edge) in ENDS.iter().flat_map(|b| EDGES.map(|e| (*b, e))) {
            let facing = Facing::with_edge(bow_end, edge, side, toward);
            assert_eq!(facing.bow_end, bow_end);
            assert_eq!(facing.next_edge(side, toward), edge);
        }
    }
}

#[test]
fn with_bead_and_cove_swapping_the_sides_of_a_pair_turns_it_end_for_end() {
    // The strip with the lower seq shows its high face. Whichever edge is given, it has one end to the bow when it lies
    // to port and the other when it lies to starboard.
    for toward in TOWARDS {
        for edge in EDGES {
            let end_to_the_bow = |side: Side| {
                ENDS.into_iter().find(|&bow_end| {
                    let face_out = Face::High;
                    Facing { bow_end, face_out }.next_edge(side, toward) == edge
                })
            };
            let to_port = end_to_the_bow(Side::Port).unwrap();
            let to_starboard = end_to_the_bow(Side::Starboard).unwrap();
            assert_eq!(to_port, to_starboard.other());
        }
    }
}

/// A place on the visible face of a laid strip, from the middle of the strip: `u` along it, `a` toward edge A.
fn seen_at(m: Matrix, middle: Vector, face_out: Face, thickness: f64, u: f64, a: f64) -> Vector {
    let high = match face_out {
        Face::High => thickness / 2.0,
        Face::Low => -thickness / 2.0,
    };
    let along = sum(scaled(m[0], u), scaled(m[2], a));
    sum(middle, sum(along, scaled(m[1], high)))
}

fn across_the_centreplane(v: Vector) -> Vector {
    [v[0], -v[1], v[2]]
}

fn near(a: Vector, b: Vector) -> bool {
    (0..3).all(|i| (a[i] - b[i]).abs() < 1e-9)
}

proptest! {
    /// Both strips of a pair shared a saw cut. A knot in it lies at one (u, a) of that cut, so at the same u and the
    /// same height toward edge A on the high face of the one strip and on the low face of the other. Laid as the model
    /// says, the two halves of the knot are mirror images across the centreplane; with any other faces or ends they are
    /// not.
    #[test]
    fn the_visible_faces_of_a_book_matched_pair_are_mirror_images(
        toward in prop::sample::select(&TOWARDS[..]),
        bow_end in prop::sample::select(&ENDS[..]),
        lower_to_port in any::<bool>(),
        lean in -1.5f64..1.5,
        middle in (0.0f64..5000.0, 50.0f64..600.0, 0.0f64..500.0),
        thickness in 3.0f64..12.0,
        u in prop_oneof![-2000.0f64..-1.0, 1.0f64..2000.0],
        a in prop_oneof![-10.0f64..-0.5, 0.5f64..10.0],
    ) {
        let middle = [middle.0, middle.1, middle.2];
        let (port_face, starboard_face) =
            if lower_to_port { (Face::High, Face::Low) } else { (Face::Low, Face::High) };
        let knot = |side: Side, facing: Facing| {
            let middle = if side == Side::Port { middle } else { across_the_centreplane(middle) };
            let edge = facing.next_edge(side, toward);
            let m = laid(side, toward, lean, facing, edge);
            (edge, seen_at(m, middle, facing.face_out, thickness, u, a))
        };
        let (port_edge, port) = knot(Side::Port, Facing { bow_end, face_out: port_face });
        for other_end in ENDS {
            let facing = Facing { bow_end: other_end, face_out: starboard_face };
            let (edge, starboard) = knot(Side::Starboard, facing);
            prop_assert_eq!(near(across_the_centreplane(port), starboard), other_end == bow_end);
            prop_assert_eq!(edge == port_edge, other_end == bow_end);
        }
        // Both showing one and the same face: reflected in the wood, so never a mirror image.
        for other_end in ENDS {
            let (_, starboard) = knot(Side::Starboard, Facing { bow_end: other_end, face_out: port_face });
            prop_assert!(!near(across_the_centreplane(port), starboard));
        }
    }
}
