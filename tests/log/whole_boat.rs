//! A boat planked to its end, with cuts told, accidents at six places and changed labels printed each time.

use super::{Folder, rows, tell};
use crate::says::Says;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// Six mirrored courses of 3 m and a centre course, and wood for half as many again.
fn boat() -> Folder {
    let folder = Folder::small();
    let courses: String = (1..=6)
        .map(|n| format!("side,{n},mirrored,0,3000\n"))
        .collect();
    folder.write(
        "courses.csv",
        &format!("panel,course,kind,from,to\n{courses}side,7,centre,500,2500\n"),
    );
    let mut strips = String::from("strip,board,seq,length,colour\nT1,,,2150,5\nT2,,,2150,5\n");
    for (board, shade) in [("K", 4), ("L", 5), ("M", 6)] {
        for seq in 1..=8 {
            strips += &format!("{board}{seq},{board},{seq},{},{shade}\n", 3400 + 10 * seq);
        }
    }
    folder.write("strips.csv", &strips);
    folder.lay().ended(0);
    folder
}

/// The labels that a plan asks for: strip and mark with the end, and what the piece is cut to and how it lies.
fn asked_for(folder: &Folder) -> BTreeMap<(String, String), Vec<String>> {
    let mut all = BTreeMap::new();
    for row in rows(folder, "out/laying-order.csv") {
        for end in ["bow", "stern"] {
            let lies = row[7..14].to_vec();
            all.insert((row[5].clone(), format!("{} {end}", row[14])), lies);
        }
    }
    all
}

/// Whether a label still says what it must: no end and no cut more than half a millimetre off.
fn as_good(was: &[String], is: &[String]) -> bool {
    let near = |(a, b): (&String, &String)| {
        let number = |text: &String| text.parse::<f64>().unwrap();
        (number(a) - number(b)).abs() <= 0.5
    };
    was[4..] == is[4..] && was[..4].iter().zip(&is[..4]).all(near)
}

/// The number in front of some words.
fn counted(text: &str, words: &str) -> usize {
    let Some((before, _)) = text.split_once(words) else {
        return 0;
    };
    before.split_whitespace().last().unwrap().parse().unwrap()
}

#[test]
fn at_the_end_the_labels_on_the_wood_are_those_of_the_final_plan() {
    let folder = boat();
    folder.run("labels", &[]).ended(0);
    let mut on_wood = asked_for(&folder);
    let mut next = 0;
    let mut told_and_printed = 0;
    for accident in 0..7 {
        // Two pieces are cut, two are glued on.
        for _ in 0..3 {
            let planned = rows(&folder, "out/laying-order.csv");
            let Some(row) = planned.get(next) else { break };
            let cut = tell(&folder, &format!("cut {} {} {}", row[2], row[3], row[4]));
            assert!(matches!(cut.status, Some(0 | 2)), "{}", cut.stderr);
            tell(&folder, "laid next").ended(0);
            next += 1;
        }
        let planned = rows(&folder, "out/laying-order.csv");
        let Some(row) = planned.get(next + accident % 2) else {
            break;
        };
        if accident == 6 {
            break;
        }
        let strip = &row[5];
        let what = match accident % 3 {
            0 => format!("broken {strip} 1700"),
            1 => format!("spoiled {strip} 200-260"),
            _ => format!("lost {strip}"),
        };
        tell(&folder, &what).ended(0);
        let ran = folder.lay().ended(0);
        folder.run("check", &[]).ended(0);
        let told = counted(&ran.stdout, " labels to print, for");
        let ran = folder.run("labels", &["--changed"]).ended(0);
        let printed = counted(
            &ran.stdout,
            &format!(" labels of {}", asked_for(&folder).len()),
        );
        assert_eq!(told, printed, "{what}: {}", ran.stdout);
        told_and_printed += printed;
        // Off comes what the list says, and on goes what was printed.
        let list = ran
            .stdout
            .split_once("Take these labels off")
            .map_or("", |(_, list)| list);
        for line in list
            .lines()
            .skip(1)
            .take_while(|line| line.starts_with("  "))
        {
            let (strip, marks) = line.trim().split_once(": ").unwrap();
            for mark in marks.split(", ") {
                let was = on_wood.remove(&(strip.to_owned(), mark.to_owned()));
                assert!(
                    was.is_some(),
                    "{strip} {mark} is to come off, and is not there"
                );
            }
        }
        folder.run("labels", &["--taken-off"]).ended(0);
        let mut put_on = 0;
        for (label, lies) in asked_for(&folder) {
            if let Entry::Vacant(free) = on_wood.entry(label) {
                free.insert(lies);
                put_on += 1;
            }
        }
        assert_eq!(put_on, printed, "{what}");
    }
    assert!(told_and_printed > 0);
    while tell(&folder, "laid next").status == Some(0) {}
    let asked = asked_for(&folder);
    assert!(on_wood.keys().eq(asked.keys()));
    for (label, lies) in &asked {
        assert!(
            as_good(&on_wood[label], lies),
            "{label:?}: {:?} for {lies:?}",
            on_wood[label]
        );
    }
    let status = folder.run("status", &[]).ended(0).stdout;
    status.says("nothing");
    let spares = folder.run("spares", &[]).ended(0).stdout;
    spares.says("there is nothing left to lose");
    assert!(!spares.contains('%'), "{spares}");
}

#[test]
fn once_everything_is_undone_the_first_plans_files_are_there_to_the_byte() {
    let folder = boat();
    let files = [
        "laying-order.csv",
        "form-marks.csv",
        "planking.svg",
        "wood.svg",
        "seams.svg",
        "report.html",
    ];
    let read = |folder: &Folder| {
        files.map(|file| std::fs::read(folder.path().join("out").join(file)).ok())
    };
    // Its number goes on, and it knows more of the log; all else is as it was made.
    let told = || {
        let told: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
        let mut told = told.as_object().unwrap().clone();
        let number = told.remove("number").unwrap();
        told.remove("log_entries").unwrap();
        (number, told)
    };
    let (first, (number, first_told)) = (read(&folder), told());
    assert!(first[0].is_some() && number == 1);
    let strip = rows(&folder, "out/laying-order.csv")[5][5].clone();
    for words in ["laid next", "cut 3 port", "cut 2"] {
        tell(&folder, words).ended(0);
    }
    tell(&folder, &format!("lost {strip}")).ended(0);
    folder.lay().ended(0);
    tell(&folder, "laid next").ended(0);
    let entries = rows(&folder, "log.csv").len();
    for number in (1..=entries).rev() {
        tell(&folder, &format!("undo {number}")).ended(0);
    }
    folder.run("lay", &[]).ended(0);
    for ((file, now), then) in files.iter().zip(read(&folder)).zip(first) {
        assert!(now == then, "{file}");
    }
    assert_eq!(told(), (3.into(), first_told));
    folder.run("check", &[]).ended(0);
}
