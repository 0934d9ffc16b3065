//! From photographs to colours, and the rack in order: `card`, `colours`, `sort`.

use crate::camera::Camera;
use crate::desk::Desk;
use crate::folder::{Folder, ran, twinstrake};
use crate::poppler;
use crate::says::Says;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use std::fs;
use twinstrake::photographs::card::{SIZE, Side, corner};
use twinstrake::units::{Colour, delta_e};

/// A board of slices as long as those on the desk, two photographs of it that overlap, and one of nothing.
fn photographed() -> (Folder, Desk) {
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    let mut desk = Desk::any(&mut rng);
    let folder = Folder::small();
    fs::remove_file(folder.path().join("strips.csv")).unwrap();
    folder.change(
        "boat.toml",
        "width = 19",
        &format!("width = {}", desk.width),
    );
    let lengths: Vec<String> = desk
        .slices
        .iter()
        .zip(1..)
        .map(|(slice, n)| format!("{n}: {:.0}", slice.length))
        .collect();
    let boards = format!(
        "board,slices,lengths\nD,{},{}\n",
        desk.slices.len(),
        lengths.join("; ")
    );
    folder.write("boards.csv", &boards);
    let mut photos = "photo,board,slices,at\n".to_owned();
    for (n, at) in [(1, desk.at), (2, desk.at + 150.0)] {
        desk.at = at;
        let camera = Camera {
            tone: 0.1 * f64::from(n),
            ..Camera::good()
        };
        fs::write(
            folder.path().join(format!("{n}.jpg")),
            camera.jpeg(&desk, &mut rng),
        )
        .unwrap();
        photos += &format!("{n}.jpg,D,,{at:.1}\n");
    }
    folder.write("photos.csv", &photos);
    (folder, desk)
}

#[test]
fn colours_are_measured_kept_with_their_pictures_and_planned_with() {
    let (folder, desk) = photographed();
    let ran = folder.run("colours", &[]).ended(0);
    ran.says("The same strip in two photographs differs by 0.");
    let sheet = folder.read("colours.csv");
    for row in sheet.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        assert_eq!(cells[8], "good", "{row}");
        let slice: usize = cells[1][1..].parse().unwrap();
        let lab: Vec<f64> = cells[4]
            .split(' ')
            .map(|value| value.parse().unwrap())
            .collect();
        let truth = desk.slices[slice - 1].colour;
        assert!(
            delta_e(Colour::lab(lab[0], lab[1], lab[2]), truth) < 2.5,
            "{row}: {truth:?}"
        );
        let long: f64 = cells[3].parse::<f64>().unwrap() - cells[2].parse::<f64>().unwrap();
        let picture = image::open(folder.path().join(cells[9])).unwrap();
        assert!(
            (f64::from(picture.width()) - 2.0 * long).abs() <= 1.0,
            "{row}"
        );
    }
    let reading = twinstrake::job::read(folder.path()).unwrap();
    for (strip, slice) in reading.job.stock.strips.iter().zip(&desk.slices) {
        assert!(delta_e(strip.colour, slice.colour) < 2.0, "{}", strip.name);
    }
    assert_eq!(folder.run("colours", &[]).ended(0).stdout, ran.stdout);
    assert_eq!(folder.read("colours.csv"), sheet);

    // What strips.csv says of a colour counts more, and a row there needs none.
    folder.write("strips.csv", "strip,length,colour\nD1,,5\nD2,,\n");
    let strips = twinstrake::job::read(folder.path())
        .unwrap()
        .job
        .stock
        .strips;
    assert_eq!(strips[0].colour, Colour::shade(5));
    assert_eq!(strips[1].colour, reading.job.stock.strips[1].colour);
}

#[test]
fn a_photograph_that_shows_nothing_is_told_and_the_others_count() {
    let (folder, _) = photographed();
    fs::write(
        folder.path().join("2.jpg"),
        b"\0\0\0\x18ftypheic\0\0\0\0mif1heic",
    )
    .unwrap();
    let ran = folder.run("colours", &[]).ended(1);
    ran.warns("Not measured: 2.jpg: it is a HEIC file");
    ran.says("from 1 photograph of 2");
    let of_the_other = |row: &str| row.starts_with("2.jpg");
    assert!(!folder.read("colours.csv").lines().any(of_the_other));

    let before = folder.read("colours.csv");
    folder.write(
        "photos.csv",
        "photo,board,slices,at\n2.jpg,D,,100\nnone.jpg,D,,100\n",
    );
    let ran = folder.run("colours", &[]).ended(2);
    ran.warns("nothing was written");
    assert_eq!(folder.read("colours.csv"), before);
}

/// A printer whose paper and greys are too dark and too yellow: with a bought grey card in the box the colours are
/// right all the same, without it all are off alike.
#[test]
fn a_bought_grey_card_in_its_box_makes_good_what_the_printer_did_to_the_greys() {
    let (folder, mut desk) = photographed();
    desk.printer = [0.86, 0.8, 0.66];
    desk.grey_card = Some(0.18);
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    let jpeg = Camera::good().jpeg(&desk, &mut rng);
    fs::write(folder.path().join("1.jpg"), jpeg).unwrap();
    let at = desk.at;
    let off = |grey_card: &str| {
        let row = format!("photo,board,slices,at,grey_card\n1.jpg,D,,{at:.1},{grey_card}\n");
        folder.write("photos.csv", &row);
        folder.run("colours", &[]).ended(0);
        let reading = twinstrake::job::read(folder.path()).unwrap();
        let strips = reading.job.stock.strips.iter().zip(&desk.slices);
        let steps: Vec<f64> = strips
            .map(|(strip, slice)| delta_e(strip.colour, slice.colour))
            .collect();
        steps
    };
    let (with, without) = (off("18"), off(""));
    assert!(with.iter().all(|step| *step < 2.5), "{with:?}");
    assert!(without.iter().all(|step| *step > 5.0), "{without:?}");
}

#[test]
fn rows_of_photos_csv_that_mean_nothing_are_told_with_the_mend() {
    let (folder, _) = photographed();
    folder.write(
        "photos.csv",
        "photo,board,slices,at,turned,grey_card\n\
         ../1.jpg,D,,100,,\n1.jpg,X,,100,,\n2.jpg,D,1-99,100,,\n3.jpg,D,,,,\n3.jpg,,S9,1,,\n4.jpg,,,1,perhaps,200\n",
    );
    let ran = folder.run("colours", &[]).ended(2);
    for told in [
        "line 2, photo: \"../1.jpg\" leads out of the folder of the job",
        "line 3, board: \"X\" is not a board of the rack",
        "line 4, slices: \"1-99\" speaks of slice 99",
        "line 5, at: the field is empty",
        "line 6, photo: \"3.jpg\" is there twice",
        "line 6, slices: \"S9\" names S9, which is not in the rack",
        "line 7, slices: the field is empty, and so is board",
        "line 7, turned: \"perhaps\" is neither yes nor no",
        "line 7, grey_card: \"200\" is not from 1 to 100 percent",
    ] {
        ran.warns(told);
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn the_card_is_printed_at_its_true_size_and_its_codes_are_read_by_another_program() {
    for (page, size) in [("A4", (297.0, 210.0)), ("Letter", (279.4, 215.9))] {
        let folder = Folder::small();
        let boat = folder.read("boat.toml") + &format!("\n[paper]\npage = \"{page}\"\n");
        folder.write("boat.toml", &boat);
        folder.run("card", &[]).ended(0);
        let card = folder.path().join("out/card.pdf");
        let [(w, h)] = poppler::page_sizes(&card)[..] else {
            panic!("one page")
        };
        assert!(
            (w - size.0).abs() < 0.1 && (h - size.1).abs() < 0.1,
            "{w} x {h}"
        );
        let words = poppler::words(&card);
        // The ends of the scale: 0 and 80 stand under their ticks, in the middle.
        let at = |text: &str| {
            let word = words
                .iter()
                .find(|word| word.text == text && word.top < 70.0)
                .unwrap();
            (word.left + word.right) / 2.0
        };
        assert!((at("80") - at("0") - 80.0).abs() < 0.4);
        let left = (size.0 - SIZE.0) / 2.0;
        let page = poppler::greys(&card, 1, 300);
        let half = SIZE.0 / 2.0;
        let parts = [
            (left, 20.0, half, SIZE.1),
            (left + half, 20.0, half, SIZE.1),
        ];
        let codes = poppler::codes(&page, parts);
        assert_eq!(
            codes,
            ["TWINSTRAKE CARD L 45 193", "TWINSTRAKE CARD R 45 193"]
        );
        // The upper left markers of both codes: seven modules wide, and as far apart as the codes say.
        let markers = [Side::Left, Side::Right].map(|side| {
            let (x, y) = corner(side);
            page.dark_span((left + x + 3.0, 20.0 + y + 0.9), (1.0, 0.0))
        });
        for (from, to) in markers {
            assert!((to - from - 7.0 * 1.8).abs() < 0.2, "{from} {to}");
        }
        assert!(
            (markers[1].0 - markers[0].0 - 193.0).abs() < 0.15,
            "{markers:?}"
        );
    }
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn the_rack_is_put_in_order_and_once_it_is_planned_stacked_with_the_first_on_top() {
    let folder = Folder::small();
    folder.write(
        "strips.csv",
        "strip,board,seq,length,thickness,colour,defects\n\
         A1,A,1,3100,,1,\nA2,A,2,3100,,1,\nB1,B,1,3100,,6,\nB2,B,2,3100,,6,\nS1,,,2100,,5,\n\
         T1,,,3100,4,5,\nU1,,,500,,5,\nV1,,,3100,,5,500-600; 1000; 1500; 2000; 2400; 2700\n",
    );
    let ran = folder.run("sort", &[]).ended(0);
    ran.says("Of no use: T1: too thin by 2.0 mm.");
    ran.says("Of no use: U1: too short: 500 mm, where");
    ran.says("Of no use: V1: clear for 500 mm only");
    let rows: Vec<Vec<String>> = folder
        .read("out/rack.csv")
        .lines()
        .skip(1)
        .map(|row| row.split(',').take(3).map(str::to_owned).collect())
        .collect();
    let row =
        |place: &str, strip: &str, mate: &str| vec![place.to_owned(), strip.into(), mate.into()];
    let expected = [
        row("1", "S1", ""),
        row("2", "B1", "B2"),
        row("2", "B2", "B1"),
        row("3", "A1", "A2"),
        row("3", "A2", "A1"),
        row("", "T1", ""),
        row("", "U1", ""),
        row("", "V1", ""),
    ];
    assert_eq!(rows, expected);
    // The row of a pair of dark strips: their names, and beside them their swatches as wide and high as they should be.
    let pdf = folder.path().join("out/rack.pdf");
    let words = poppler::words(&pdf);
    assert!(words.iter().any(|word| word.text == "B1"));
    let name = words.iter().find(|word| word.text == "A1").unwrap();
    let page = poppler::greys(&pdf, 1, 300);
    let inside = (name.left - 20.0, name.top + 0.6);
    let (left, right) = page.dark_span(inside, (1.0, 0.0));
    assert!(
        (right - left - 64.0).abs() < 0.2 && right < name.left,
        "{left} {right}"
    );
    let (top, foot) = page.dark_span(inside, (0.0, 1.0));
    assert!((foot - top - 2.0 * 3.4).abs() < 0.2, "{top} {foot}");

    folder.lay().ended(0);
    folder.run("sort", &["--stack"]).ended(0);
    let stacked: Vec<String> = folder
        .read("out/stack.csv")
        .lines()
        .skip(1)
        .map(|row| row.split(',').nth(1).unwrap().to_owned())
        .collect();
    let mut laid: Vec<String> = folder
        .read("out/laying-order.csv")
        .lines()
        .skip(1)
        .map(|row| row.split(',').nth(5).unwrap().to_owned())
        .collect();
    laid.reverse();
    assert_eq!(stacked, laid);
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn what_is_not_sawn_yet_is_planned_with_when_asked_and_everything_says_so() {
    let folder = Folder::small();
    fs::remove_file(folder.path().join("strips.csv")).unwrap();
    folder.write(
        "boards.csv",
        "board,slices,length,width,colour\nA,2,3100,,4\nB,,3100,40,6\n",
    );
    let boat = folder.read("boat.toml");
    folder.run("lay", &["--rounds", "1"]).ended(1);
    folder.write("boat.toml", &(boat + "\n[mill]\npromised = true\n"));
    let ran = folder.run("lay", &["--rounds", "1"]).ended(0);
    ran.warns("not sawn yet: B");
    for file in [
        "laying-order.csv",
        "plan.json",
        "planking.svg",
        "wood.svg",
        "seams.svg",
        "report.html",
    ] {
        assert!(
            folder.read(&format!("out/{file}")).contains("not sawn yet"),
            "{file}"
        );
    }
    for (command, files) in [
        ("labels", vec!["labels.pdf"]),
        ("sheets", vec!["laying-sheet.pdf", "cut-list.pdf"]),
    ] {
        folder
            .run(command, &[])
            .ended(0)
            .stderr
            .says("not sawn yet: B");
        for file in files {
            let words = poppler::words(&folder.path().join("out").join(file));
            assert!(
                words.iter().any(|word| word.text.starts_with("sawn")),
                "{file}"
            );
        }
    }
    folder
        .run("check", &[])
        .ended(0)
        .stderr
        .says("not sawn yet: B");
    // At the saw it is not sawn.
    folder.run("mill", &[]).stdout.says("not yet");
}

/// A process of its own for each photograph: what is not asked for in its words is no photograph.
#[test]
fn the_process_that_measures_one_photograph_does_nothing_by_itself() {
    let ran = ran(twinstrake().arg("measure-one").write_stdin("nonsense")).ended(2);
    assert_eq!((ran.stdout.as_str(), ran.stderr.as_str()), ("", ""));
}
