//! Disks and pipes that don't take what they are given.

use crate::folder::Folder;
use crate::says::Says;
use std::fs;
use twinstrake::out::FILES;

#[test]
fn where_no_out_folder_can_be_no_plan_is_written() {
    let folder = Folder::small();
    folder.write("out", "a file of that name");
    let ran = folder.lay().ended(3);
    ran.stderr.begins("No plan was written.");
    ran.warns("a file stands where its folder should be");
    assert_eq!(folder.read("out"), "a file of that name");
    assert_eq!(ran.stdout, "");
}

#[test]
fn a_folder_in_the_place_of_one_file_leaves_the_other_files_as_they_were() {
    let folder = Folder::small();
    folder.write("out/laying-order.csv", "old");
    fs::create_dir(folder.path().join("out/plan.json")).unwrap();
    let ran = folder.lay().ended(3);
    ran.warns("a folder of that name is there");
    let there = folder.out();
    assert_eq!(
        there.len(),
        1,
        "and no temporary file stays: {:?}",
        there.keys()
    );
    assert_eq!(there["laying-order.csv"], b"old");
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::process::{Command, Stdio};

    const PROGRAM: &str = env!("CARGO_BIN_EXE_twinstrake");

    #[test]
    fn a_file_that_grows_too_large_half_way_leaves_the_earlier_plan_whole() {
        // The shell lets no file grow beyond one block (512 or 1024 bytes), which plan.json is longer than.
        let folder = Folder::laid();
        let before = folder.out();
        assert!(before["plan.json"].len() > 1024);
        let output = Command::new("sh")
            .args([
                "-c",
                "trap '' XFSZ; ulimit -f 1; exec \"$0\" lay \"$1\" --rounds 0 --seed 2",
            ])
            .arg(PROGRAM)
            .arg(folder.path())
            .output()
            .unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3), "{stderr}");
        stderr.begins("No plan was written.");
        assert!(folder.out() == before);
    }

    #[test]
    fn whoever_closes_the_pipe_has_read_enough() {
        let folder = Folder::small();
        let mut child = Command::new(PROGRAM)
            .arg("lay")
            .arg(folder.path())
            .args(["--rounds", "0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0));
        assert_eq!(output.stderr, b"");
        assert_eq!(folder.out().len(), FILES.len());
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_summary_that_finds_the_disk_full_is_told_and_the_plan_is_there() {
        let folder = Folder::small();
        let output = Command::new(PROGRAM)
            .arg("lay")
            .arg(folder.path())
            .args(["--rounds", "0"])
            .stdout(fs::File::create("/dev/full").unwrap())
            .output()
            .unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3));
        stderr.begins("The plan is written, but its summary could not be printed");
        assert_eq!(folder.out().len(), FILES.len());
    }
}
