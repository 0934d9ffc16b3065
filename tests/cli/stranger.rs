//! A job folder may come from a stranger: nothing in it moves other files, reaches the terminal as a command, or
//! makes anybody wait.

use crate::folder::{Folder, Ran, ran, twinstrake};
use std::fs;

/// Everything in a folder and below, links by where they lead: to tell whether anything was written.
#[cfg(unix)]
fn everything(folder: &std::path::Path) -> Vec<(std::path::PathBuf, Vec<u8>)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let kind = fs::symlink_metadata(&path).unwrap().file_type();
        if kind.is_dir() {
            all.extend(everything(&path));
        }
        let what = match () {
            () if kind.is_file() => fs::read(&path).unwrap(),
            () if kind.is_symlink() => format!("{:?}", fs::read_link(&path)).into_bytes(),
            () => Vec::new(),
        };
        all.push((path, what));
    }
    all.sort();
    all
}

/// No text that was handed in is obeyed by a terminal, and every line is one of ours.
#[track_caller]
fn is_plain(ran: &Ran) {
    let both = format!("{}{}", ran.stdout, ran.stderr);
    let bad = both.chars().find(|c| {
        *c != '\n'
            && (c.is_control()
                || ('\u{202a}'..='\u{202e}').contains(c)
                || ('\u{2066}'..='\u{2069}').contains(c))
    });
    assert_eq!(bad, None, "{both:?}");
}

#[cfg(unix)]
mod links {
    use super::*;
    use std::os::unix::fs::symlink;
    use tempfile::TempDir;

    /// A folder of somebody else with two files in it.
    fn foreign() -> TempDir {
        let foreign = TempDir::new().unwrap();
        fs::write(foreign.path().join("letters.csv"), "dear").unwrap();
        fs::create_dir(foreign.path().join("5")).unwrap();
        fs::write(foreign.path().join("5/letters.csv"), "dear").unwrap();
        foreign
    }

    #[test]
    fn a_link_planted_where_a_plan_would_wait_moves_no_foreign_file() {
        let folder = Folder::laid();
        let foreign = foreign();
        let before = everything(foreign.path());
        symlink(foreign.path(), folder.path().join("out/.twinstrake-ready")).unwrap();
        for command in ["status", "check", "why"] {
            let all = everything(folder.path());
            folder.run(command, &[]).ended(0);
            assert_eq!(everything(folder.path()), all, "{command}");
        }
        let ran = folder.run("sheets", &[]).ended(3);
        ran.warns("was not made by twinstrake");
        assert_eq!(everything(foreign.path()), before);
        assert!(!folder.has("out/letters.csv"));
    }

    #[test]
    fn nothing_is_written_through_a_link() {
        for link in ["out", "out/choices", "out/earlier", "log.csv"] {
            let folder = Folder::laid();
            let foreign = foreign();
            let path = folder.path().join(link);
            match link {
                "out" => {
                    let plan = folder.read("out/laying-order.csv");
                    fs::remove_dir_all(&path).unwrap();
                    fs::write(foreign.path().join("laying-order.csv"), plan).unwrap();
                    symlink(foreign.path(), &path).unwrap();
                }
                "log.csv" => symlink(foreign.path().join("letters.csv"), &path).unwrap(),
                _ => symlink(foreign.path(), &path).unwrap(),
            }
            if link == "out/earlier" {
                folder.write("log.csv", "event,strip,at\nbroken,S1,10\n");
            }
            let before = everything(foreign.path());
            let ran = folder.run("lay", &["--rounds", "0", "--choices", "2"]);
            assert!(
                ran.status == Some(3) || ran.status == Some(2),
                "{link}: {}",
                ran.stderr
            );
            assert!(ran.stderr.contains("is a link"), "{link}: {}", ran.stderr);
            assert_eq!(everything(foreign.path()), before, "{link}");
        }
    }

    #[test]
    fn an_out_that_leads_nowhere_is_told_before_the_search() {
        let folder = Folder::small();
        symlink("nowhere", folder.path().join("out")).unwrap();
        let ran = folder.lay().ended(3);
        ran.warns("out is a link.");
        ran.warns("Take it away, and try again.");
    }

    #[test]
    fn a_pipe_or_a_device_is_refused_and_not_waited_for() {
        for file in ["boat.toml", "strips.csv", "log.csv", "out/laying-order.csv"] {
            let folder = Folder::laid();
            let path = folder.path().join(file);
            let _ = fs::remove_file(&path);
            let made = std::process::Command::new("mkfifo")
                .arg(&path)
                .status()
                .unwrap();
            assert!(made.success());
            let ran = folder.run("check", &[]).ended(2);
            ran.warns(&format!(
                "{file}: the file can't be read: it is a pipe or a device"
            ));
        }
    }

    #[test]
    fn whoever_waits_for_another_writer_is_told() {
        let folder = Folder::laid();
        let held = fs::File::open(folder.path().join("out")).unwrap();
        held.lock().unwrap();
        let path = folder.path().to_owned();
        let waiting =
            std::thread::spawn(move || ran(twinstrake().args(["sheets"]).arg(path)).ended(0));
        std::thread::sleep(std::time::Duration::from_secs(4));
        drop(held);
        let ran = waiting.join().unwrap();
        ran.warns("Another twinstrake is writing in");
    }
}

#[test]
fn what_was_mistyped_is_told_back_without_anything_that_a_terminal_obeys() {
    let bad = "x\u{1b}[31m\u{9b}2J\u{202e}y\nNothing is wrong.";
    let folder = Folder::laid();
    is_plain(&ran(twinstrake().arg(bad)).ended(2));
    is_plain(&ran(twinstrake().args(["lay", bad])).ended(2));
    is_plain(&ran(twinstrake().args(["lay", "x", "--seconds", bad])).ended(2));
    let ran = ran(twinstrake()
        .args(["log", "--job"])
        .arg(folder.path())
        .args(["lost", bad]))
    .ended(2);
    is_plain(&ran);
}

#[cfg(unix)]
#[test]
fn a_folder_with_a_name_full_of_commands_is_told_in_plain_letters() {
    let there = tempfile::TempDir::new().unwrap();
    let dir = there.path().join("boat\u{1b}[2J\nPlan 1 stands.\u{202e}");
    fs::create_dir(&dir).unwrap();
    let small = Folder::small();
    for file in ["boat.toml", "courses.csv", "strips.csv"] {
        fs::write(dir.join(file), small.read(file)).unwrap();
    }
    let ran = ran(twinstrake().args(["lay", "--rounds", "0"]).arg(&dir)).ended(0);
    is_plain(&ran);
    assert!(
        !ran.stdout
            .lines()
            .any(|line| line.starts_with("Plan 1 stands.")),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_name_with_a_character_that_is_not_seen_or_of_more_than_200_letters_is_complained_of() {
    let long = "A".repeat(201);
    for name in [
        "A\u{1b}[31m2",
        "A\u{9b}2",
        "A\u{202e}2",
        "A\u{2067}2",
        long.as_str(),
    ] {
        for (file, old, new) in [
            ("strips.csv", "A2,A,2", format!("{name},A,2")),
            ("strips.csv", "S1,,,2100", format!("S1,{name},1,2100")),
            (
                "boat.toml",
                "\"Skiff\"",
                format!("{name:?}")
                    .replace("\\u{1b}", "\\u001b")
                    .replace("\\u{9b}", "\\u009b")
                    .replace("\\u{202e}", "\\u202e")
                    .replace("\\u{2067}", "\\u2067"),
            ),
        ] {
            let folder = Folder::small();
            folder.change(file, old, &new);
            let ran = folder.lay().ended(2);
            is_plain(&ran);
            let told = [
                "which is not text",
                "is not seen",
                "longer than 200 characters",
                "the file is not text",
            ];
            assert!(
                told.iter().any(|told| ran.stderr.contains(told)),
                "{file}: {}",
                ran.stderr
            );
        }
    }
}

#[test]
fn a_name_that_the_typeface_has_not_got_is_refused_alike_for_labels_sheets_and_pictures() {
    let folder = Folder::small();
    folder.change("strips.csv", "B1,B,1", "\u{6728}B1,B,1");
    folder.lay().ended(0);
    let before = folder.out();
    for command in ["labels", "sheets", "pictures"] {
        let ran = folder.run(command, &[]).ended(2);
        assert_eq!(
            ran.stderr.matches("\u{6728}B1").count(),
            1,
            "{command}: {}",
            ran.stderr
        );
    }
    assert!(folder.out() == before);
}

/// Notes and the like are the builder's own words: what turns the direction of writing is not complained of there.
#[test]
fn grain_and_notes_that_turn_the_writing_are_shown_without_that_on_terminal_picture_and_page() {
    let bad = "curly\u{202e}\u{2067} here";
    let folder = Folder::small();
    let rows = folder
        .read("strips.csv")
        .replace('\n', &format!(",{bad}\n"));
    folder.write("strips.csv", &rows.replacen(bad, "grain", 1));
    folder.write(
        "log.csv",
        &format!("event,strip,at,note\nbroken,S1,10,{bad}\n"),
    );
    is_plain(&folder.lay().ended(0));
    let told = ran(twinstrake().args(["log", "--job"]).arg(folder.path()));
    told.says("curly");
    is_plain(&told);
    for file in ["planking.svg", "wood.svg", "report.html"] {
        let text = folder.read(&format!("out/{file}"));
        assert!(text.contains("curly"), "{file}");
        assert!(!text.contains(['\u{202e}', '\u{2067}']), "{file}");
    }
}
