//! Labels for the strips' ends.

use super::{about, demo, on_disk};
use crate::paper::poppler::{self, Word};
use std::fs;
use twinstrake::hull::{LayOrder, Side, Toward};
use twinstrake::job::stationery::{grid, label_stock, tape};
use twinstrake::job::{Grid, Job, LabelStock, Page};
use twinstrake::paper::{Label, labels, of_plan};
use twinstrake::plan::Plan;
use twinstrake::units::Unit;

fn sheet(name: &str) -> LabelStock {
    LabelStock::Sheet(grid(name, Unit::Mm).unwrap())
}

fn printed(
    job: &Job,
    plan: &Plan,
    stock: &LabelStock,
) -> (Vec<Label>, tempfile::TempDir, std::path::PathBuf) {
    let all = of_plan(job, plan, &about());
    let pages = labels(job, &all, stock, 0).unwrap().pages;
    let (folder, file) = on_disk(&pages);
    (all, folder, file)
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn every_code_on_every_page_is_read_by_another_program_and_names_the_strip_of_its_label() {
    let (job, plan) = demo();
    let (all, _folder, file) = printed(&job, &plan, &sheet("A4 3x7"));
    assert_eq!(
        all.len(),
        2 * plan.pieces.len(),
        "a label for each end of each piece"
    );
    for (n, on_page) in all.chunks(21).enumerate() {
        let page = poppler::greys(&file, n + 1, 150);
        let names: Vec<&str> = on_page.iter().map(|label| label.strip.as_str()).collect();
        let cells = (0..on_page.len()).map(poppler::cell);
        assert_eq!(poppler::codes(&page, cells), names, "page {}", n + 1);
    }
    for (name, embedded) in poppler::fonts(&file) {
        assert!(embedded && name.contains("NotoSans"), "{name}");
    }
}

/// The grids of the reference: name, and in mm columns, rows, label, margins, pitches.
fn reference() -> Vec<(String, Vec<f64>)> {
    let text = fs::read_to_string("tests/reference/label_sheets.csv").unwrap();
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    rows.records()
        .map(|row| {
            let row = row.unwrap();
            let figures = row
                .iter()
                .skip(1)
                .take(10)
                .map(|cell| cell.parse().unwrap());
            (row[0].to_owned(), figures.collect())
        })
        .collect()
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn on_every_common_sheet_each_label_lies_within_two_tenths_of_a_millimetre_of_its_place() {
    let (job, plan) = demo();
    for (name, size) in reference() {
        let [
            page_w,
            page_h,
            columns,
            rows,
            _,
            high,
            left,
            top,
            pitch_x,
            pitch_y,
        ] = size[..]
        else {
            panic!("{size:?}");
        };
        let all = of_plan(&job, &plan, &about());
        let first = &all[..(columns * rows) as usize];
        let pages = labels(&job, first, &sheet(&name), 0).unwrap().pages;
        assert_eq!(pages.len(), 1);
        let (_folder, file) = on_disk(&pages);
        let (w, h) = poppler::page_sizes(&file)[0];
        assert!(
            (w - page_w).abs() < 0.05 && (h - page_h).abs() < 0.05,
            "{name}: {w} x {h}"
        );
        let page = poppler::greys(&file, 1, 300);
        for (n, label) in first.iter().enumerate() {
            let (column, row) = (n as f64 % columns, (n as f64 / columns).floor());
            let (x, y) = (left + column * pitch_x, top + row * pitch_y);
            if label.mark().ends_with("stern") {
                continue;
            }
            // The bar of a bow end is black and begins 1.5 mm inside the label, or 5 mm inside the sheet.
            let (bar_x, bar_top) = ((x + 1.5).max(5.0), (y + 1.5).max(5.0));
            let bar_bottom = (y + high - 1.5).min(page_h - 5.0);
            let inside = (bar_x + 0.4, bar_top + 0.4);
            let (found_left, _) = page.dark_span(inside, (1.0, 0.0));
            let (found_top, found_bottom) = page.dark_span(inside, (0.0, 1.0));
            for (found, meant) in [
                (found_left, bar_x),
                (found_top, bar_top),
                (found_bottom, bar_bottom),
            ] {
                assert!(
                    (found - meant).abs() < 0.2,
                    "{name}, label {n}: {found} for {meant}"
                );
            }
        }
    }
}

#[test]
fn the_grids_known_by_name_are_those_of_the_reference() {
    for (name, size) in reference() {
        let Grid {
            page,
            columns,
            rows,
            width,
            height,
            left,
            top,
            pitch_x,
            pitch_y,
        } = grid(&name, Unit::Mm).unwrap();
        let ours = [
            page.width.mm(),
            page.height.mm(),
            columns as f64,
            rows as f64,
            width.mm(),
            height.mm(),
            left.mm(),
            top.mm(),
            pitch_x.mm(),
            pitch_y.mm(),
        ];
        for (ours, theirs) in ours.iter().zip(&size) {
            assert!((ours - theirs).abs() < 0.001, "{name}: {ours} for {theirs}");
        }
    }
}

/// The words of one label: line by line, and then those that read upwards and the letter in the arrow.
fn in_cell(words: &[Word], page: usize, (x, y, w, h): poppler::Part) -> Vec<&str> {
    let inside = |word: &&Word| {
        let (mid_x, mid_y) = (
            (word.left + word.right) / 2.0,
            (word.top + word.bottom) / 2.0,
        );
        word.page == page && (x..x + w).contains(&mid_x) && (y..y + h).contains(&mid_y)
    };
    // Words on one line have their feet at one height; what is set upwards crosses the lines.
    let aside =
        |word: &Word| ["BOW", "STERN", "next", "free", "A", "B"].contains(&word.text.as_str());
    let mut found: Vec<&Word> = words.iter().filter(inside).collect();
    found.sort_by(|a, b| {
        let line = |word: &Word| (word.bottom / 0.7).round() as i64;
        let left = a.left.total_cmp(&b.left);
        aside(a)
            .cmp(&aside(b))
            .then(line(a).cmp(&line(b)))
            .then(left)
    });
    found.iter().map(|word| word.text.as_str()).collect()
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_label_says_course_strip_end_face_edge_cut_and_length_as_the_laying_order_has_them() {
    let (job, plan) = demo();
    let (_, _folder, file) = printed(&job, &plan, &sheet("A4 3x7"));
    let words = poppler::words(&file);
    // As they lie in the rack: by strip, and along each from its marked end.
    let mut pieces: Vec<_> = plan.pieces.iter().collect();
    pieces.sort_by_key(|piece| (job.stock.strip(piece.strip).name.clone(), piece.cut_from));
    let natural = |name: &str| {
        (
            name.chars()
                .take_while(|c| c.is_alphabetic())
                .collect::<String>(),
            name.len(),
            name.to_owned(),
        )
    };
    pieces.sort_by_key(|piece| natural(&job.stock.strip(piece.strip).name));
    for (n, piece) in pieces.iter().enumerate() {
        for (end, at) in [(0, piece.cut_from), (1, piece.cut_to)] {
            let place = 2 * n + end;
            let found = in_cell(&words, place / 21 + 1, poppler::cell(place)).join(" ");
            let strip = job.stock.strip(piece.strip);
            let course = job.hull.course(piece.course);
            let marked = end == 0;
            let to_bow = marked == (piece.bow_end.name() == "mark");
            let letter = match piece.side {
                Side::Port => "P",
                Side::Starboard => "S",
                Side::Centre => "C",
            };
            let cut = match at.mm() {
                0.0 => "no cut".into(),
                mm if mm == strip.length.mm() => "no cut".into(),
                mm => format!("cut at {mm:.0} mm"),
            };
            let expected = [
                strip.name.clone(),
                letter.into(),
                format!("{}.{}", course.number, piece.number),
                if to_bow { "BOW".into() } else { "STERN".into() },
                piece.next_edge.name().into(),
                format!("this face out: {}", piece.face_out.name()),
                format!("{} end, {cut}", if marked { "marked" } else { "plain" }),
                format!("length {:.0} mm", (piece.to - piece.from).mm()),
                job.hull.panel_of(piece.course).name.clone(),
            ];
            for words in expected {
                let there = format!(" {found} ").contains(&format!(" {words} "));
                assert!(there, "{words:?} in {found:?}");
            }
        }
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_arrow_points_down_to_the_keel_on_port_and_up_on_starboard_as_in_the_drawing_and_turns_for_a_deck()
 {
    // Seen from outside with the bow to the left: on port the keel is below. Starboard is seen so only upside down,
    // with the keel above, as in the lower half of the planking drawing. Toward the deck both are the other way
    // round. The second of two courses has no next: a bar lies along its edge instead.
    let arrow = |toward, side: Side, course: &str| {
        let boat = crate::common::boat()
            .panel("p", toward)
            .lay(LayOrder::PortFirst)
            .courses(2, 0.0, 3000.0);
        let job = boat.board("oak", 4, 3300.0, 5).build();
        let plan = crate::common::naive::plan(&job, crate::common::naive::Habit::FewJoints);
        let all = of_plan(&job, &plan, &about());
        let label = all
            .iter()
            .find(|label| label.side == side && label.place == course);
        let label = label.unwrap().clone();
        let pages = labels(&job, std::slice::from_ref(&label), &sheet("A4 2x7"), 0)
            .unwrap()
            .pages;
        let (_folder, file) = on_disk(&pages);
        let page = poppler::greys(&file, 1, 200);
        // Near the upper and the lower end of the arrow's column, on its axis: its head is wide, its tail narrow.
        let (left, top, high) = (4.65 + 1.5 + 6.0 + 1.0, 15.15 + 1.5, 35.1);
        let offset = if label.mark().ends_with("stern") {
            -7.0
        } else {
            0.0
        };
        let axis = left + offset + 4.25;
        let wide = |y: f64| {
            let (from, to) = page.dark_span((axis, y), (1.0, 0.0));
            to - from
        };
        let [upper, lower] = [0.8, high - 0.8].map(|y| wide(top + y) > 7.5);
        match (upper, lower, wide(top + 4.0) > wide(top + high - 4.0)) {
            (true, false, _) => "upper edge free",
            (false, true, _) => "lower edge free",
            (_, _, true) => "up",
            (_, _, false) => "down",
        }
    };
    for (toward, side, way, free) in [
        (Toward::Keel, Side::Port, "down", "lower edge free"),
        (Toward::Keel, Side::Starboard, "up", "upper edge free"),
        (Toward::Deck, Side::Port, "up", "upper edge free"),
        (Toward::Deck, Side::Starboard, "down", "lower edge free"),
    ] {
        assert_eq!(arrow(toward, side, "1.1"), way);
        assert_eq!(arrow(toward, side, "2.1"), free);
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_marks_of_port_and_starboard_are_a_square_and_a_triangle_and_told_apart_in_grey() {
    // Source of the shapes: tests/reference has none of its own; IALA Maritime Buoyage System, port can, starboard
    // cone point up.
    let (job, plan) = demo();
    let (all, _folder, file) = printed(&job, &plan, &sheet("A4 3x7"));
    let page = poppler::greys(&file, 1, 300);
    let words = poppler::words(&file);
    let mut seen = Vec::new();
    for (n, label) in all.iter().take(21).enumerate() {
        let (x, y, ..) = poppler::cell(n);
        let letter = match label.side {
            Side::Port => "P",
            Side::Starboard => "S",
            Side::Centre => "C",
        };
        let at = words.iter().find(|word| {
            word.page == 1
                && word.text == letter
                && (x..x + 40.0).contains(&word.left)
                && (y..y + 15.0).contains(&word.top)
        });
        let at = at.unwrap();
        let axis = (at.left + at.right) / 2.0;
        // From the label's edge down to the shape; there the square is wide and the cone is a point.
        let mut top = y + 0.5;
        while page.at(axis, top) >= 128 {
            top += 0.05;
        }
        let (left, right) = page.dark_span((axis, top + 0.5), (1.0, 0.0));
        seen.push((label.side, right - left));
    }
    let wide = |side: Side| {
        seen.iter()
            .filter(move |(s, _)| *s == side)
            .map(|(_, w)| *w)
    };
    assert!(wide(Side::Port).count() > 2 && wide(Side::Starboard).count() > 2);
    let least_square = wide(Side::Port).fold(f64::INFINITY, f64::min);
    let most_cone = wide(Side::Starboard).fold(0.0, f64::max);
    assert!(
        least_square > 4.0 && most_cone < 2.0,
        "{least_square} {most_cone}"
    );
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_half_used_sheet_is_begun_where_its_labels_begin() {
    let (job, plan) = demo();
    let all = of_plan(&job, &plan, &about());
    let stock = sheet("A4 3x7");
    let pages = labels(&job, &all[..4], &stock, 19).unwrap().pages;
    assert_eq!(pages.len(), 2);
    let (_folder, file) = on_disk(&pages);
    let words = poppler::words(&file);
    let name = |page, n| in_cell(&words, page, poppler::cell(n)).join(" ");
    assert_eq!(name(1, 18), "");
    assert!(name(1, 19).contains(&all[0].strip) && name(1, 20).contains(&all[1].strip));
    assert!(name(2, 0).contains(&all[2].strip) && name(2, 1).contains(&all[3].strip));
    assert_eq!(name(2, 2), "");
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn tape_has_a_page_for_each_label_as_wide_as_the_tape() {
    let (job, plan) = demo();
    for width in ["12", "24"] {
        let (all, _folder, file) = printed(&job, &plan, &tape(width, Unit::Mm).unwrap());
        let sizes = poppler::page_sizes(&file);
        assert_eq!(sizes.len(), all.len());
        let high: f64 = width.parse().unwrap();
        assert!(
            sizes
                .iter()
                .all(|(w, h)| (w - 70.0).abs() < 0.05 && (h - high).abs() < 0.05)
        );
        let page = poppler::greys(&file, 1, 300);
        let codes = poppler::codes(&page, [(0.0, 0.0, 70.0, high)]);
        assert_eq!(codes, [all[0].strip.as_str()], "tape of {width} mm");
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_flag_folds_over_the_end_of_the_strip_with_its_bar_beside_the_fold_on_both_faces() {
    let (job, plan) = demo();
    let flags = label_stock("flags", Unit::Mm, Page::A4).unwrap();
    let (all, _folder, file) = printed(&job, &plan, &flags);
    let words = poppler::words(&file);
    // A flag of the demo: faces of 62 mm, a spine as wide as the strip is thick, 6 mm, from 5 mm in the paper; 18 mm
    // high, 3 apart.
    for (n, label) in all.iter().take(10).enumerate() {
        let top = 5.0 + n as f64 * 21.0;
        let left = in_cell(&words, 1, (5.0, top, 62.0, 18.0));
        let right = in_cell(&words, 1, (73.0, top, 62.0, 18.0));
        assert!(
            in_cell(&words, 1, (67.0, top, 6.0, 18.0)).is_empty(),
            "nothing on the fold"
        );
        let end = if label.mark().ends_with("bow") {
            "BOW"
        } else {
            "STERN"
        };
        let bars: Vec<&Word> = words
            .iter()
            .filter(|word| {
                word.page == 1
                    && word.text == end
                    && (top..top + 18.0).contains(&((word.top + word.bottom) / 2.0))
            })
            .collect();
        assert_eq!(bars.len(), 2);
        assert!(
            bars.iter().all(|bar| bar.left > 60.0 && bar.right < 80.0),
            "beside the fold: {bars:?}"
        );
        let outside = if end == "BOW" { &right } else { &left };
        let inside = if end == "BOW" { &left } else { &right };
        assert!(outside.join(" ").contains("this face out:"), "{outside:?}");
        assert!(inside.join(" ").contains("this face inside:"), "{inside:?}");
        assert!(inside.contains(&label.strip.as_str()) && outside.contains(&label.strip.as_str()));
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn strips_with_accents_are_printed_coded_and_read_back() {
    let names = ["Éabh-1", "Éabh-2", "Ärmel ½", "kůň-8", "ŁÓDŹ-3", "Cèdre Ø"];
    let mut boat = crate::common::boat()
        .panel("bordé", Toward::Keel)
        .courses(3, 0.0, 3000.0);
    for (n, name) in names.iter().enumerate() {
        let colour = twinstrake::units::Colour::shade(5);
        boat = boat.strip(name, "oak", n as u32 + 1, 3300.0, colour);
    }
    let job = boat.build();
    let plan = crate::common::naive::plan(&job, crate::common::naive::Habit::FewJoints);
    let (all, _folder, file) = printed(&job, &plan, &sheet("A4 3x7"));
    let expected: Vec<&str> = all.iter().map(|label| label.strip.as_str()).collect();
    assert_eq!(all.len(), 12);
    let page = poppler::greys(&file, 1, 150);
    let codes: Vec<String> = (0..12)
        .map(|n| poppler::code(&page, poppler::cell(n)))
        .collect();
    assert_eq!(codes, expected);
}

#[test]
fn what_can_not_be_printed_is_refused_by_name() {
    use twinstrake::paper::Unfit;
    let boat = crate::common::boat()
        .panel("p", Toward::Keel)
        .course(0.0, 3000.0);
    let colour = twinstrake::units::Colour::shade(5);
    let long = "W".repeat(60);
    let job = boat
        .strip("木-1", "oak", 1, 3300.0, colour)
        .strip(&long, "oak", 2, 3300.0, colour)
        .build();
    let plan = crate::common::naive::plan(&job, crate::common::naive::Habit::FewJoints);
    let all = of_plan(&job, &plan, &about());
    let refused = twinstrake::paper::names_unprintable(&job);
    assert_eq!(refused, [Unfit::Unprintable('木', "木-1".into())]);
    let latin: Vec<Label> = all
        .into_iter()
        .filter(|label| label.strip == long)
        .collect();
    let refused = labels(&job, &latin, &sheet("A4 3x7"), 0).unwrap_err();
    assert_eq!(refused, [Unfit::Name(long)]);
    let tiny = label_stock(
        "A4 3x7 label 20 x 8 from 5, 5 pitch 60 x 40",
        Unit::Mm,
        Page::A4,
    )
    .unwrap();
    assert_eq!(labels(&job, &latin, &tiny, 0).unwrap_err(), [Unfit::Label]);
}
