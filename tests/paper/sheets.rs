//! The laying sheet and the cut list.

use super::{about, common, demo, on_disk};
use crate::common::Says;
use crate::paper::poppler::{self, Word};
use std::collections::BTreeSet;
use twinstrake::hull::{CourseId, Crossing, End, Form, FormId, LayOrder, Toward};
use twinstrake::job::{Bench, Job, Page};
use twinstrake::lines::{Fit, Laid, Taper};
use twinstrake::paper::{About, cut_list, laying_sheet};
use twinstrake::plan::{Edge, Edges, Plan};
use twinstrake::units::{Length, S, Unit, X};

fn laid(job: &Job, plan: &Plan, about: &About) -> Vec<Word> {
    let pages = laying_sheet(job, plan, about, Page::A4).unwrap();
    let (_folder, file) = on_disk(&pages);
    poppler::words(&file)
}

/// The lines of words on all pages.
fn texts(words: &[Word]) -> Vec<String> {
    lines(words).into_iter().map(|line| line.1).collect()
}

/// Lines of words: those on one page whose boxes share a middle, from the top.
fn lines(words: &[Word]) -> Vec<(usize, String)> {
    let mut lines: Vec<(usize, f64, Vec<&Word>)> = Vec::new();
    for word in words {
        let middle = (word.top + word.bottom) / 2.0;
        match lines
            .iter_mut()
            .find(|(page, at, _)| *page == word.page && (at - middle).abs() < 1.6)
        {
            Some(line) => line.2.push(word),
            None => lines.push((word.page, middle, vec![word])),
        }
    }
    lines.sort_by(|a, b| (a.0, a.1).partial_cmp(&(b.0, b.1)).unwrap());
    let joined = lines.into_iter().map(|(page, _, mut words)| {
        words.sort_by(|a, b| a.left.total_cmp(&b.left));
        let text: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
        (page, text.join(" "))
    });
    joined.collect()
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_laying_sheet_has_every_piece_in_the_order_of_laying_with_its_mark_and_way_round() {
    let (job, plan) = demo();
    let words = laid(&job, &plan, &about());
    let mut said = texts(&words);
    said.retain(|line| line.contains(" to bow, "));
    assert_eq!(said.len(), plan.pieces.len());
    for (line, piece) in said.iter().zip(&plan.pieces) {
        let way = format!(
            "{} to bow, {} {}, {} out",
            piece.bow_end.name(),
            piece.next_edge.name(),
            job.hull.next_or_free(piece.course),
            piece.face_out.name()
        );
        let strip = &job.stock.strip(piece.strip).name;
        let length = format!("{:.0} mm", (piece.to - piece.from).mm());
        let several = plan
            .pieces
            .iter()
            .filter(|p| (p.course, p.side) == (piece.course, piece.side))
            .count()
            > 1;
        let number = if several {
            format!("{}: ", piece.number)
        } else {
            String::new()
        };
        let first = match piece.number {
            1 => format!(
                "{} {} ",
                &piece.side.name()[..1].to_uppercase(),
                job.hull.course(piece.course).number
            ),
            _ => String::new(),
        };
        assert_eq!(*line, format!("{first}{strip} {number}{way} {length}"));
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn every_page_says_which_page_of_how_many_and_of_which_plan_and_the_cautions_are_there_once() {
    let (job, plan) = demo();
    let dated = About {
        date: Some("25 November".into()),
        ..about()
    };
    let all = lines(&laid(&job, &plan, &dated));
    let pages = all.last().unwrap().0;
    assert!(pages > 1);
    for page in 1..=pages {
        let foot = format!("plan 0123abcd printed 25 November page {page} of {pages}");
        let here: Vec<&str> = all
            .iter()
            .filter(|line| line.0 == page)
            .map(|line| line.1.as_str())
            .collect();
        assert_eq!(*here.last().unwrap(), foot);
        here[0].says("Demo double-ender");
        here[0].says("Laying sheet");
    }
    for caution in ["Dust:", "Saw:", "Glue:", "Strength:"] {
        let on: Vec<usize> = all
            .iter()
            .filter(|line| line.1.starts_with(caution))
            .map(|line| line.0)
            .collect();
        assert_eq!(on, [pages], "{caution}");
    }
    assert!(
        lines(&laid(&job, &plan, &about()))
            .iter()
            .any(|line| line.1.contains("printed ____"))
    );
}

/// Two mirrored courses, fitted at the bow; the first with a joint at 1500 mm, and forms where it narrows.
fn skiff(lay: LayOrder) -> (Job, Plan) {
    let mut job = common::boat()
        .panel("topside", Toward::Keel)
        .lay(lay)
        .course(0.0, 3000.0)
        .course(0.0, 3000.0)
        .ends(End::Fitted, End::Free)
        .board("oak", 6, 3300.0, 5)
        .build();
    let form = |name: &str, at| Form {
        name: name.into(),
        at: X::from_mm(at),
    };
    job.hull.forms = vec![form("1", 300.0), form("2", 2000.0)];
    let crossing = |form, at, width| Crossing {
        form: FormId(form),
        at: S::from_mm(at),
        width: Length::from_mm(width),
        bevel: None,
    };
    job.hull.courses[0].crossings = vec![crossing(0, 300.0, 14.2), crossing(1, 2000.0, 19.0)];
    let cut = |one, other| common::Cut::pair(&job, one, other, 50.0);
    let cuts = [cut("oak-01", "oak-02"), cut("oak-03", "oak-04")];
    let first = common::lay_course(&job, CourseId(0), &[S::from_mm(1500.0)], &cuts);
    let second = common::lay_whole(&job, 1, cut("oak-05", "oak-06"));
    let plan = common::complete(&job, [first, second].concat());
    (job, plan)
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn ends_joints_forms_and_narrow_places_stand_under_each_course() {
    let (job, plan) = skiff(LayOrder::PortFirst);
    let text = texts(&laid(&job, &plan, &about())).join("\n");
    // Pieces: the first from -25 to 1524, half a scarf of 48 mm beyond the joint; the second from 1476 to 3025.
    for words in [
        "bow end fitted, 25 mm over · joint 1500 mm from the bow · stern end fitted, 25 mm over",
        "forms of piece 1, mm from its bow end: 1: 325",
        "forms of piece 2, mm from its bow end: 2: 524",
        "narrows: 14.2 mm at form 1",
        "stern end free, 50 mm over",
        "all of port, then all of starboard",
    ] {
        text.says(words);
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_first_and_the_closing_strip_say_which_edge_is_free_and_what_becomes_of_bead_or_cove() {
    let (mut job, _) = skiff(LayOrder::PortFirst);
    job.rules.edges = Edges::BeadAndCove { next_edge: Edge::A };
    let plan = common::naive::plan(&job, common::naive::Habit::FewJoints);
    let text = texts(&laid(&job, &plan, &about())).join("\n");
    let count = |words: &str| text.matches(words).count();
    // Each on both sides of the boat.
    let off = "plane bead or cove off where it meets another edge";
    assert_eq!(
        count(&format!("edge B is free, no course before it: {off}")),
        2
    );
    assert_eq!(
        count(&format!("edge A is free, no course next to it: {off}")),
        2
    );
    assert_eq!((count("A next,"), count("A free,")), (2, 2), "{text}");
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_cut_line_of_an_end_and_bevels_stand_beside_the_course_in_the_units_of_the_job() {
    for (lay, told) in [(LayOrder::PortFirst, 2), (LayOrder::Alternate, 1)] {
        cut_lines_and_bevels(lay, told);
    }
}

fn cut_lines_and_bevels(lay: LayOrder, told: usize) {
    let (mut job, plan) = skiff(lay);
    for (crossing, bevel) in job.hull.courses[0].crossings.iter_mut().zip([0.9, -4.0]) {
        crossing.bevel = Some(bevel);
    }
    let taper = Taper {
        length: 400.0,
        tip: 0.0,
        start: 19.05,
        line: vec![(0.0, 0.0), (241.3, 12.7), (400.0, 19.05)],
        sliver: 120.65,
    };
    let own = Laid {
        course: job.hull.courses[0].clone(),
        bow: Fit::Stem,
        stern: Fit::Fitted,
        bow_taper: Some(taper),
        stern_taper: None,
    };
    // Square edges 6 mm thick that turn by 4 degrees: 2·6·sin 2° = 0.42 mm, 1/64 in.
    let about = About {
        bench: Bench {
            laid: vec![own],
            gape: Length::from_mm(0.3),
        },
        ..about()
    };
    for (unit, expected) in [
        (
            Unit::Mm,
            [
                "cut line of the bow end: 0.0 mm wide at the tip · 12.7 mm at 241 mm from it · \
                19.1 mm at 400 mm from it",
                "no glue on the first 121 mm until it is trimmed",
                "bevel to the next course at form 2: hollow 4.0° gapes 0.4 mm",
            ],
        ),
        (
            Unit::Inch,
            [
                "cut line of the bow end: 0\" wide at the tip · 1/2\" at 9 1/2\" from it · 3/4\" at 15 3/4\" from it",
                "no glue on the first 4 3/4\" until it is trimmed",
                "bevel to the next course at form 2: hollow 4.0° gapes 1/64\"",
            ],
        ),
    ] {
        job.unit = unit;
        let all = texts(&laid(&job, &plan, &about));
        let text = all.join(" ").replace("&quot;", "\"");
        for words in expected {
            // Of the first course alone; on both sides of the boat, where they are laid one after the other.
            let times = text
                .replace("· ", "")
                .matches(&words.replace("· ", ""))
                .count();
            assert_eq!(times, told, "{words} in\n{text}");
        }
        text.lacks("0.9°");
        text.lacks("narrows:");
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn on_the_side_laid_second_the_sheet_says_which_course_an_end_is_fitted_against() {
    for (lay, second, first) in [
        (LayOrder::PortFirst, "S", "port"),
        (LayOrder::StarboardFirst, "P", "starboard"),
    ] {
        let (job, plan) = skiff(lay);
        let all = texts(&laid(&job, &plan, &about()));
        let mut side = String::new();
        let mut course = String::new();
        let mut seen = 0;
        for line in &all {
            let mut words = line.split(' ');
            let (one, two) = (words.next().unwrap(), words.next().unwrap_or_default());
            if ["P", "S"].contains(&one) {
                (side, course) = (one.into(), two.into());
            }
            if line.starts_with("bow end") {
                let against = format!("bow end fitted against course {course} {first}, 25 mm over");
                assert_eq!(line.starts_with(&against), side == second, "{line}");
                seen += 1;
            }
        }
        assert_eq!(seen, 4);
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_course_without_wood_stands_open_in_its_place() {
    let (job, plan) = skiff(LayOrder::Alternate);
    let only_second = plan
        .pieces
        .iter()
        .filter(|piece| piece.course.0 == 1)
        .cloned()
        .collect();
    let plan = common::complete(&job, only_second);
    let all = texts(&laid(&job, &plan, &about()));
    let at = |what: &str| all.iter().position(|line| line.contains(what)).unwrap();
    assert!(at("P 1 open: nothing in the rack covers it") < at("oak-05"));
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_strip_that_can_not_be_replaced_is_marked_on_both_sheets() {
    let (job, plan) = skiff(LayOrder::Alternate);
    let about = About {
        no_spare: BTreeSet::from([job.stock.named("oak-03").unwrap()]),
        ..about()
    };
    let marked = |words: &[Word]| -> Vec<String> {
        let all = texts(words).into_iter();
        all.filter(|line| line.contains("no spare")).collect()
    };
    let sheet = marked(&laid(&job, &plan, &about));
    assert!(sheet.len() == 1 && sheet[0].contains("oak-03"), "{sheet:?}");
    let pages = cut_list(&job, &plan, &about, Page::A4).unwrap();
    let (_folder, file) = on_disk(&pages);
    let list = marked(&poppler::words(&file));
    assert!(list.len() == 1 && list[0].starts_with("oak-03"), "{list:?}");
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_cut_list_tells_for_each_strip_where_to_cut_what_for_and_what_is_left() {
    let (job, plan) = demo();
    let pages = cut_list(&job, &plan, &about(), Page::A4).unwrap();
    let (_folder, file) = on_disk(&pages);
    let all = texts(&poppler::words(&file));
    let mut pieces: Vec<_> = plan.pieces.iter().collect();
    pieces.sort_by_key(|piece| (piece.strip, piece.cut_from));
    let mut rows = all.iter().filter(|line| line.ends_with(" mm long"));
    let figure = |text: &str| -> f64 { text.trim().parse().unwrap() };
    for piece in &pieces {
        let row = rows.next().unwrap();
        let course = job.hull.course(piece.course);
        let mark = format!(
            "{} {}.{} {}",
            &piece.side.name()[..1].to_uppercase(),
            course.number,
            piece.number,
            job.hull.panel_of(piece.course).name
        );
        assert!(row.starts_with(&mark), "{row} is not {mark}");
        assert!(
            row.ends_with(&format!("{:.0} mm long", (piece.to - piece.from).mm())),
            "{row}"
        );
        let length = job.stock.strip(piece.strip).length;
        for at in [piece.cut_from, piece.cut_to] {
            let needed = at.mm() != 0.0 && at.mm() != length.mm();
            assert_eq!(
                row.contains(&format!("{:.0} mm", at.mm())) && row.contains("cut at"),
                needed || row.contains("cut at") && row.contains(&format!("{:.0} mm", at.mm())),
                "{row}"
            );
        }
    }
    assert!(rows.next().is_none());
    // What goes into a strip comes out of it: pieces, saw cuts and what is left make its length.
    for id in pieces
        .iter()
        .map(|piece| piece.strip)
        .collect::<BTreeSet<_>>()
    {
        let strip = job.stock.strip(id);
        let head = all
            .iter()
            .find(|line| line.starts_with(&format!("{} board ", strip.name)));
        let head = head.unwrap_or_else(|| panic!("{} in {all:#?}", strip.name));
        let left = head.split_once("left: ").unwrap().1;
        let rests: f64 = left
            .split(',')
            .filter(|part| part.contains(" mm "))
            .map(|part| figure(part.split(" mm ").next().unwrap()))
            .sum();
        let mine: Vec<_> = pieces.iter().filter(|piece| piece.strip == id).collect();
        let cut: f64 = mine.iter().map(|piece| (piece.to - piece.from).mm()).sum();
        let saws = 3.0 * (mine.len() as f64 + 1.0);
        let lost = strip.length.mm() - cut - rests;
        // Rounded to whole mm, and ends that are too short to tell of.
        assert!(
            (-2.0..=saws + mine.len() as f64 + 2.0).contains(&lost),
            "{head}: {lost} of {saws}"
        );
    }
}
