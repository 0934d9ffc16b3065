//! The hull in three dimensions: every place of every ribbon on the skin, against closed forms and a printed table.

use crate::lines::panel::{STRIP, drawn, smooth};
use crate::lines::round::quarter;
use crate::lines::wigley::{half_breadth, hull};
use crate::lines::{canoe, near};
use crate::says::Says;
use twinstrake::hull::{Hull, LayOrder, Panel, PanelId, Side, Toward};
use twinstrake::invented;
use twinstrake::job::Job;
use twinstrake::lines::{Centre, PanelShape, area, courses};
use twinstrake::plan::{BowEnd, Edge, Face, Piece, Plan};
use twinstrake::solid::{Body, Faces, Missing, Place, Planked, Ribbon, glb, ribbons, shape};
use twinstrake::stock::{Stock, Strip, StripId};
use twinstrake::units::{Colour, Length, S, U};

type Point = [f64; 3];

/// A boat of one panel, each course one strip that is just as long, marked end to the bow.
fn planked(told: &PanelShape) -> (Job, Plan) {
    let laid = courses(told, STRIP).unwrap();
    let hull = Hull {
        panels: vec![Panel {
            name: "side".into(),
            toward: told.toward,
            look: 1.0,
            drift: None,
            lay: LayOrder::Alternate,
        }],
        courses: laid.into_iter().map(|laid| laid.course).collect(),
        forms: Vec::new(),
        keep_clear: Vec::new(),
        show: Vec::new(),
    };
    let (mut stock, mut plan) = (Stock::default(), Plan::default());
    for (id, course) in hull.courses() {
        for side in course.sides() {
            let strip = StripId(stock.strips.len());
            let (name, pale) = (format!("T{}", strip.0), Colour::lab(70.0, 10.0, 25.0));
            stock
                .strips
                .push(Strip::plain(name, None, course.length, pale));
            plan.pieces.push(Piece {
                course: id,
                side: *side,
                number: 1,
                strip,
                mate: None,
                from: S::at(Length::ZERO),
                to: S::at(course.length),
                cut_from: U::ORIGIN,
                cut_to: U::at(course.length),
                bow_end: BowEnd::Mark,
                next_edge: Edge::B,
                face_out: Face::High,
            });
        }
    }
    let mut rules = invented::rules();
    (rules.width, rules.thickness) = (
        Length::from_mm(STRIP.width),
        Length::from_mm(STRIP.thickness),
    );
    let job = invented::job("Closed form", hull, stock, rules);
    (job, plan)
}

fn wooded(told: PanelShape) -> (Job, Plan, Vec<Ribbon>) {
    let (job, plan) = planked(&told);
    let all = ribbons(&[told], &job, &plan).unwrap();
    assert_eq!(all.len(), plan.pieces.len());
    (job, plan, all)
}

fn cylinder() -> PanelShape {
    let sections: Vec<_> = (0..=8)
        .map(|i| quarter(500.0 * f64::from(i), 300.0, 17))
        .collect();
    drawn(&sections, smooth)
}

/// From a radius of 40 mm at the bow to 400 mm at the stern. Forms stand as close as between them a course that winds
/// round the narrow end is still known.
fn cone() -> PanelShape {
    let sections: Vec<_> = (4..=40)
        .map(|i| quarter(100.0 * f64::from(i), 10.0 * f64::from(i), 17))
        .collect();
    drawn(&sections, smooth)
}

/// A cylinder, a cone, the Wigley hull and the printed canoe.
fn all_four() -> [PanelShape; 4] {
    [
        cylinder(),
        cone(),
        hull(41, 17),
        drawn(&canoe::sections(), smooth),
    ]
}

fn places(all: &[Ribbon]) -> impl Iterator<Item = &Place> {
    all.iter().flat_map(|ribbon| ribbon.lines.iter().flatten())
}

fn length(line: &[Place]) -> f64 {
    line.windows(2).map(|two| apart(two[0].at, two[1].at)).sum()
}

fn apart(a: Point, b: Point) -> f64 {
    (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn every_place_on_a_cylinder_lies_on_it_and_looks_straight_out() {
    let (_, _, all) = wooded(cylinder());
    for place in places(&all) {
        let [_, y, z] = place.at;
        assert!((y.hypot(z) - 300.0).abs() < 0.2, "{place:?}");
        let [nx, ny, nz] = place.out;
        let straight = (y * ny + z * nz) / 300.0;
        assert!(nx.abs() < 1e-6 && straight > 0.995, "{place:?}");
    }
}

#[test]
fn every_place_on_a_cone_lies_on_it() {
    let (_, _, all) = wooded(cone());
    for place in places(&all) {
        let [x, y, z] = place.at;
        // Square to the skin, which leans by one in ten.
        let off = (y.hypot(z) - x / 10.0) / 1.01_f64.sqrt();
        assert!(off.abs() < 0.2, "{off} at {place:?}");
    }
}

#[test]
fn every_place_on_the_wigley_hull_lies_on_it() {
    let (_, _, all) = wooded(hull(41, 17));
    for place in places(&all) {
        let [x, y, z] = place.at;
        let off = y.abs() - half_breadth(x, -z);
        assert!(off.abs() < 0.2, "{off} at {place:?}");
        assert!(
            place.out[1] * y.signum() > 0.0 || y.abs() < 0.5,
            "looks in: {place:?}"
        );
    }
}

#[test]
fn on_the_printed_canoe_ribbons_pass_through_the_sections_at_the_forms() {
    let sections = canoe::sections();
    let told = drawn(&sections, smooth);
    let curves: Vec<Vec<Point>> = sections
        .iter()
        .map(|points| {
            let curve = smooth(points);
            (0..=4000)
                .map(|i| curve.at(curve.length() * f64::from(i) / 4000.0))
                .collect()
        })
        .collect();
    let (_, _, all) = wooded(told);
    let mut seen = 0;
    for place in places(&all) {
        let [x, y, z] = place.at;
        let at_form = curves.iter().find(|curve| (curve[0][0] - x).abs() < 1e-6);
        let Some(curve) = at_form else { continue };
        seen += 1;
        let nearest = curve
            .iter()
            .map(|point| apart(*point, [x, y.abs(), z]))
            .fold(f64::MAX, f64::min);
        assert!(nearest < 0.2, "{nearest} at {place:?}");
    }
    assert!(seen > 500, "only {seen} places at forms");
}

#[test]
fn the_edge_of_a_ribbon_is_as_long_as_its_course() {
    for told in all_four() {
        let (job, plan, all) = wooded(told);
        for ribbon in &all {
            let course = job.hull.course(plan.pieces[ribbon.piece].course);
            let part = length(&ribbon.lines[0]) / course.length.mm();
            near(part, 1.0, 1e-3, course.number);
        }
    }
}

#[test]
fn all_ribbons_together_are_as_large_as_the_skin() {
    for told in all_four() {
        let skin = 2.0 * area(&told).unwrap();
        let (_, _, all) = wooded(told);
        let cells = all.iter().flat_map(|ribbon| {
            let (one, other) = (&ribbon.lines[0], &ribbon.lines[1]);
            (1..one.len()).map(|i| {
                let half = |a: Point, b: Point, c: Point| {
                    let (p, q, r) = (apart(a, b), apart(b, c), apart(c, a));
                    // Heron's formula.
                    let s = 0.5 * (p + q + r);
                    (s * (s - p) * (s - q) * (s - r)).max(0.0).sqrt()
                };
                let (a, b, c, d) = (one[i - 1].at, one[i].at, other[i].at, other[i - 1].at);
                half(a, b, c) + half(a, c, d)
            })
        });
        let part = cells.sum::<f64>() / skin;
        assert!((part - 1.0).abs() < 5e-3, "{part}");
    }
}

#[test]
fn port_mirrors_starboard() {
    for told in all_four() {
        let (_, plan, all) = wooded(told);
        for ribbon in &all {
            let piece = &plan.pieces[ribbon.piece];
            if piece.side != Side::Port {
                continue;
            }
            let is_mate = |other: &&Ribbon| {
                let other = &plan.pieces[other.piece];
                other.course == piece.course && other.side == Side::Starboard
            };
            let mate = all.iter().find(is_mate).unwrap();
            let port = ribbon.lines.iter().flatten();
            for (a, b) in port.zip(mate.lines.iter().flatten()) {
                assert!(apart(a.at, [b.at[0], -b.at[1], b.at[2]]) < 1e-6);
            }
        }
    }
}

#[test]
fn the_skin_looks_outwards_everywhere() {
    for told in all_four() {
        let (_, _, all) = wooded(told);
        let top = places(&all)
            .map(|place| place.at[2])
            .fold(f64::MIN, f64::max);
        for place in places(&all) {
            // From the line that runs along the middle of the deck.
            let [_, y, z] = place.at;
            let outwards = y * place.out[1] + (z - top) * place.out[2];
            assert!(outwards > -1e-9, "{place:?}");
        }
    }
}

#[test]
fn neighbours_share_their_edge_and_overlap_nowhere() {
    for told in all_four() {
        let (job, plan, all) = wooded(told);
        let starboard = |ribbon: &&Ribbon| plan.pieces[ribbon.piece].side == Side::Starboard;
        let course = |ribbon: &Ribbon| job.hull.course(plan.pieces[ribbon.piece].course);
        let mut seams = 0;
        for upper in all.iter().filter(starboard) {
            let beside = |lower: &&Ribbon| course(upper).lies_before(course(lower));
            for lower in all.iter().filter(starboard).filter(beside) {
                seams += 1;
                for place in &lower.lines[0] {
                    // From the nearest chord of the upper one's lower edge.
                    let chords = upper.lines[1].windows(2);
                    let off = chords.map(|two| from_chord(place.at, two[0].at, two[1].at));
                    let off = off.fold(f64::MAX, f64::min);
                    assert!(
                        off < 0.3,
                        "course {}: {off} at {place:?}",
                        course(upper).number
                    );
                }
            }
        }
        assert!(seams > 10, "only {seams} seams");
    }
}

fn from_chord(p: Point, a: Point, b: Point) -> f64 {
    let along: Point = std::array::from_fn(|k| b[k] - a[k]);
    let square: f64 = along.iter().map(|part| part * part).sum();
    let reach: f64 = (0..3).map(|k| (p[k] - a[k]) * along[k]).sum();
    let t = if square > 0.0 {
        (reach / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    apart(p, std::array::from_fn(|k| a[k] + t * along[k]))
}

#[test]
fn the_marked_end_lies_at_the_bow_and_edge_b_toward_the_next_course() {
    let (job, plan, all) = wooded(hull(41, 17));
    for ribbon in &all {
        let strip = job.stock.strip(plan.pieces[ribbon.piece].strip).length.mm();
        let (first, last) = (ribbon.lines[0][0], *ribbon.lines[0].last().unwrap());
        assert!(first.at[0] < last.at[0]);
        assert!(
            first.along < 0.01 && (last.along - strip).abs() < 0.01,
            "{first:?} {last:?}"
        );
        assert_eq!(
            ribbon
                .lines
                .iter()
                .map(|line| line[0].across)
                .collect::<Vec<_>>(),
            [0.0, 1.0]
        );
    }
}

#[test]
fn a_strip_that_is_turned_end_for_end_or_over_lies_so() {
    let told = hull(41, 17);
    let (job, mut plan) = planked(&told);
    for piece in &mut plan.pieces {
        if piece.side == Side::Port {
            (piece.bow_end, piece.next_edge) = (BowEnd::Plain, Edge::A);
        }
    }
    for ribbon in ribbons(&[told], &job, &plan).unwrap() {
        let piece = &plan.pieces[ribbon.piece];
        let strip = job.stock.strip(piece.strip).length.mm();
        let (first, next) = (ribbon.lines[0][0], ribbon.lines[1][0]);
        let (along, across) = match piece.side {
            Side::Port => (strip, [1.0, 0.0]),
            _ => (0.0, [0.0, 1.0]),
        };
        assert!((first.along - along).abs() < 0.01, "{first:?}");
        assert_eq!([first.across, next.across], across);
    }
}

/// The model: from the marked end, out of the high face, toward edge A is a right-handed frame, however a panel is
/// laid.
#[test]
fn a_strip_that_the_model_lets_lie_is_never_mirrored_on_the_hull() {
    // Round the bottom, and round the top of the cylinder; each from the side and from the centreline.
    let round = |top: bool, from_side: bool, toward: Toward| {
        let section = |i: i32| {
            let mut section = quarter(500.0 * f64::from(i), 300.0, 17);
            let up = if top { -1.0 } else { 1.0 };
            section.iter_mut().for_each(|at| at[2] *= up);
            if !from_side {
                section.reverse();
            }
            section
        };
        let sections: Vec<Vec<Point>> = (0..=8).map(section).collect();
        let mut told = drawn(&sections, smooth);
        let centre = if from_side {
            Centre::Last
        } else {
            Centre::First
        };
        (told.toward, told.centre) = (toward, centre);
        told
    };
    for told in [
        round(false, true, Toward::Keel),
        round(false, false, Toward::Deck),
        round(true, false, Toward::Keel),
        round(true, true, Toward::Deck),
    ] {
        let (job, mut plan) = planked(&told);
        for (piece, n) in plan.pieces.iter_mut().zip(0..) {
            // Each of the four ways in turn; the third property follows (docs/model.md, "Turning a strip").
            piece.bow_end = [BowEnd::Mark, BowEnd::Plain][n % 2];
            piece.face_out = [Face::High, Face::Low][n / 2 % 2];
            let h = if (piece.side == Side::Starboard) == (told.toward == Toward::Keel) {
                1
            } else {
                -1
            };
            let mark = if piece.bow_end == BowEnd::Mark { -1 } else { 1 };
            let high = if piece.face_out == Face::High { 1 } else { -1 };
            piece.next_edge = if mark * high * h == 1 {
                Edge::A
            } else {
                Edge::B
            };
        }
        assert!(plan.pieces.iter().any(|piece| piece.side == Side::Centre));
        for ribbon in ribbons(std::slice::from_ref(&told), &job, &plan).unwrap() {
            let piece = &plan.pieces[ribbon.piece];
            let (near, far) = (&ribbon.lines[0], ribbon.lines.last().unwrap());
            let n = near.len() / 2;
            let to = |a: Point, b: Point| [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
            let along = to(near[n].at, near[n + 1].at);
            let u = along.map(|way| way * (near[n + 1].along - near[n].along).signum());
            let edge_a =
                to(near[n].at, far[n].at).map(|way| way * (near[n].across - far[n].across));
            // Of a course round the keel the middle looks straight out.
            let out = ribbon.lines[ribbon.lines.len() / 2][n].out;
            let face = out.map(|way| {
                if piece.face_out == Face::High {
                    way
                } else {
                    -way
                }
            });
            let cross = [
                u[1] * face[2] - u[2] * face[1],
                u[2] * face[0] - u[0] * face[2],
                u[0] * face[1] - u[1] * face[0],
            ];
            let same = (0..3).map(|k| cross[k] * edge_a[k]).sum::<f64>();
            assert!(same > 0.0, "{piece:?}");
        }
    }
}

#[test]
fn a_body_is_closed_but_for_the_seam_and_every_triangle_looks_out_of_the_wood() {
    let (_, _, all) = wooded(cylinder());
    let body = Body::of(&all[0], STRIP.thickness);
    let middle: Point = std::array::from_fn(|k| {
        body.vertices.iter().map(|vertex| vertex.at[k]).sum::<f64>() / body.vertices.len() as f64
    });

    // there.
    let mut volume = 0.0;
    for [a, b, c] in &body.triangles {
        let at = |i: &u32| -> Point {
            std::array::from_fn(|k| body.vertices[*i as usize].at[k] - middle[k])
        };
        let (a, b, c) = (at(a), at(b), at(c));
        volume += (a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0]))
            / 6.0;
    }
    // Length, width across the chord half way through, thickness. A turned triangle would take away twice its part;
    // what is missing is the slit under the outside, a thirtieth of each rim.
    let known = 4000.0 * 2.0 * 297.0 * (STRIP.width / 600.0).sin() * STRIP.thickness;
    assert!((volume / known - 1.0).abs() < 0.03, "{volume} for {known}");
}

#[test]
fn girths_alone_are_no_shape() {
    let told = hull(41, 17);
    let (job, plan) = planked(&told);
    let bare = PanelShape {
        sections: None,
        ..told
    };
    assert_eq!(
        ribbons(&[bare], &job, &plan),
        Err(Missing::Offsets(PanelId(0)))
    );
    assert_eq!(ribbons(&[], &job, &plan), Err(Missing::Offsets(PanelId(0))));
}

#[test]
fn before_there_is_wood_every_course_every_form_and_both_lines_are_in_the_shape() {
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-stock");
    let lines = twinstrake::job::read_lines(&demo).unwrap();
    let bytes = shape(&lines).unwrap();
    let long = u32::from_le_bytes(bytes[12..16].try_into().unwrap()) as usize;
    let head: serde_json::Value = serde_json::from_slice(&bytes[20..20 + long]).unwrap();
    let nodes = head["nodes"].as_array().unwrap();
    let of = |kind: &str, side: &str| {
        let here = |node: &&serde_json::Value| {
            node["extras"]["kind"] == kind && node["extras"]["side"] == side
        };
        nodes.iter().filter(here).collect::<Vec<_>>()
    };
    let panels = lines.told.len();
    for side in ["port", "starboard"] {
        let courses = lines
            .laid
            .iter()
            .filter(|laid| laid.course.sides().len() == 2);
        assert_eq!(of("skin", side).len(), courses.count());
        let forms: usize = lines.told.iter().map(|told| told.forms.len()).sum();
        assert_eq!(of("form", side).len(), forms);
        assert_eq!(of("start line", side).len(), panels);
        assert_eq!(of("stop line", side).len(), panels);
    }
    // The skin reaches to the places of the forms, and says how long its course is.
    let first = &lines.laid[0].course;
    let skin = of("skin", "port")[0];
    let says = skin["extras"]["says"].as_str().unwrap();
    says.says(&lines.unit.shop(first.length));
    let mesh = &head["meshes"][skin["mesh"].as_u64().unwrap() as usize]["primitives"][0];
    let at = mesh["attributes"]["POSITION"].as_u64().unwrap() as usize;
    let (least, most) = (
        &head["accessors"][at]["min"][0],
        &head["accessors"][at]["max"][0],
    );
    assert!((least.as_f64().unwrap() - first.from.mm() / 1000.0).abs() < 1e-4);
    assert!((most.as_f64().unwrap() - first.to.mm() / 1000.0).abs() < 1e-4);
    let girths = lines.told.iter().map(|told| PanelShape {
        sections: None,
        ..told.clone()
    });
    let told = girths.collect();
    assert_eq!(shape(&twinstrake::job::Lines { told, ..lines }), None);
}

#[test]
fn plans_that_are_compared_share_what_is_alike() {
    let (job, plan, all) = wooded(cylinder());
    let named = |name: &str| Planked {
        name: name.into(),
        plan: &plan,
        ribbons: all.clone(),
    };
    let one = glb(&job, &[named("one")], &Faces::new()).unwrap();
    let two = glb(&job, &[named("one"), named("two")], &Faces::new()).unwrap();
    let head = |bytes: &[u8]| -> serde_json::Value {
        let long = u32::from_le_bytes(bytes[12..16].try_into().unwrap()) as usize;
        serde_json::from_slice(&bytes[20..20 + long]).unwrap()
    };
    assert_eq!(head(&one)["buffers"], head(&two)["buffers"]);
    assert_eq!(head(&two)["scenes"][1]["name"], "two");
    assert_eq!(head(&two)["scene"], 0);
}

#[test]
fn the_file_says_what_each_mesh_is() {
    let (job, plan, all) = wooded(hull(41, 17));
    let planked = [Planked {
        name: "the plan".into(),
        plan: &plan,
        ribbons: all,
    }];
    let bytes = glb(&job, &planked, &Faces::new()).unwrap();
    assert_eq!(&bytes[..4], b"glTF");
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!((number(4), number(8)), (2, bytes.len()));
    let head: serde_json::Value = serde_json::from_slice(&bytes[20..20 + number(12)]).unwrap();
    let nodes = head["nodes"].as_array().unwrap();
    for (i, piece) in plan.pieces.iter().enumerate() {
        let of_piece = nodes
            .iter()
            .find(|node| node["extras"]["order"] == i + 1)
            .unwrap();
        let extras = &of_piece["extras"];
        assert_eq!(extras["strip"], job.stock.strip(piece.strip).name.as_str());
        assert_eq!(extras["side"], piece.side.name());
        of_piece["name"].as_str().unwrap().says(piece.side.name());
    }
    // Twice the same.
    assert!(bytes == glb(&job, &planked, &Faces::new()).unwrap());
}
