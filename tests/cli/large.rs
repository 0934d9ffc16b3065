//! Jobs larger than anybody's: the limits on time hold, and memory grows no faster than the job.
//!
//! Sizes: `TWINSTRAKE_LARGE` is how many times as large they are (1 where it says nothing; 10 is 20,000 strips and
//! 2,000 courses).

use crate::folder::Folder;
use crate::says::Says;
use std::fmt::Write as _;
use std::process::Command;
use twinstrake::job;

fn times() -> usize {
    let said = std::env::var("TWINSTRAKE_LARGE").ok();
    said.and_then(|said| said.parse().ok()).unwrap_or(1)
}

/// So many courses of 6 m and less, and so many strips of 6.3 m, twelve a board, each board of its own colour.
fn job(courses: usize, strips: usize) -> Folder {
    let folder = Folder::small();
    let mut sheet = String::from("panel,course,kind,from,to\n");
    for n in 1..=courses {
        let off = n * 8 % 1500;
        writeln!(sheet, "side,{n},mirrored,{off},{}", 6000 - off).unwrap();
    }
    folder.write("courses.csv", &sheet);
    let mut sheet = String::from("strip,board,seq,length,colour\n");
    for i in 0..strips {
        let (board, seq) = (i / 12, i % 12 + 1);
        let (l, a, b) = (50 + board * 7 % 30, 4 + board % 8, 18 + board % 11);
        writeln!(
            sheet,
            "{board}-{seq},{board},{seq},6300,{l}.{} {a} {b}",
            seq % 10
        )
        .unwrap();
    }
    folder.write("strips.csv", &sheet);
    folder
}

/// Runs a command with no more memory than so many megabytes. Addresses that nothing stands at count as well: half a
/// gigabyte of them.
#[cfg(target_os = "linux")]
fn within(
    megabytes: usize,
    folder: &Folder,
    command: &str,
    options: &[&str],
) -> (Option<i32>, String) {
    let limit = format!("ulimit -v {}; exec \"$0\" \"$@\"", 1024 * (megabytes + 500));
    let mut run = Command::new("sh");
    run.args(["-c", &limit, env!("CARGO_BIN_EXE_twinstrake"), command]);
    let ran = run.arg(folder.path()).args(options).output().unwrap();
    let told = String::from_utf8(ran.stdout).unwrap() + &String::from_utf8(ran.stderr).unwrap();
    (ran.status.code(), told)
}

/// 5,000 strips need no table of all their colours against each other, which alone would be 200 MB (and 3.2 GB at
/// 20,000).
#[cfg(target_os = "linux")]
#[test]
fn a_rack_of_thousands_takes_little_memory_and_is_laid_in_the_time_that_was_given() {
    let folder = job(30 * times(), 5000.max(2000 * times()));
    let most = 100 * times().max(1);
    let (status, told) = within(most.min(1000), &folder, "lay", &["--seconds", "1"]);
    assert_eq!(status, Some(0), "{told}");
    let plan: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    assert_eq!(
        (&plan["ended"], &plan["seconds"]),
        (&"seconds".into(), &1.0.into())
    );
    folder.run("check", &[]).ended(0);
}

/// What to mill for hundreds of open courses is not tried for ever: the limit holds for that as well.
#[test]
fn hundreds_of_courses_without_wood_are_told_open_in_the_time_that_was_given() {
    let folder = job(100 * times(), 8);
    folder.run("lay", &["--seconds", "0"]).ended(1);
    let job = job::read(folder.path()).unwrap().job;
    let plan = job::read_plan(folder.path(), &job).unwrap();
    assert!(plan.uncovered.len() >= 100 * times() - 4);
}

#[cfg(target_os = "linux")]
#[test]
fn labels_and_pictures_of_hundreds_of_courses_take_little_memory() {
    let folder = job(200 * times(), 410 * times());
    let lay = ["--rounds", "0", "--quiet"];
    folder.run("lay", &lay).ended(0);
    // All pages side by side took 250 MB, and 950 MB for the labels of 2,000 courses with two joints each.
    let most = 100.max(50 * times());
    let (status, told) = within(most, &folder, "labels", &[]);
    assert_eq!(status, Some(0), "{told}");
    if times() == 1 {
        return;
    }
    let wide = ["--wide", "8000"];
    let (status, told) = within(1000, &folder, "pictures", &wide);
    assert_eq!(status, Some(0), "{told}");
    told.says("planking.png is ");
}
