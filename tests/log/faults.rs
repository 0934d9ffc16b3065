//! Power cuts, full disks, folders for reading only, and two hands at once.
//!
//! How often: `TWINSTRAKE_FAULTS` kills (40 where it says nothing) and `TWINSTRAKE_WRITES` entries for each of two
//! writers (100).

use super::{Folder, again_quickly, laid, rows, tell};
use crate::says::Says;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use sha2::{Digest as _, Sha256};
use std::fs;
use std::io::Write;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;
use twinstrake::job;

const PROGRAM: &str = env!("CARGO_BIN_EXE_twinstrake");

fn often(name: &str, usually: usize) -> usize {
    let said = std::env::var(name).ok();
    said.and_then(|said| said.parse().ok()).unwrap_or(usually)
}

fn log(folder: &Folder, words: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command
        .arg("log")
        .arg("--job")
        .arg(folder.path())
        .args(words);
    command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command
}

/// Ends it with SIGKILL after a while; what it had said by then.
fn kill_after(mut child: Child, wait: Duration) -> String {
    sleep(wait);
    let _ = child.kill();
    String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap()
}

#[test]
fn no_entry_that_was_told_as_written_is_lost_to_a_power_cut() {
    let folder = laid();
    let mut rng = Pcg64::seed_from_u64(1);
    let mut told = Vec::new();
    for i in 0..often("TWINSTRAKE_FAULTS", 40) / 2 {
        let note = format!("number {i}");
        let child = log(&folder, &["shade", "C1", "5", "--note", &note])
            .spawn()
            .unwrap();
        let said = kill_after(child, Duration::from_micros(rng.random_range(0..60_000)));
        if said.contains("shade: C1") {
            told.push(note);
        }
    }
    tell(&folder, "shade C1 6").ended(0);
    assert!(!told.is_empty(), "no entry was ever written in time");
    let reading = job::read(folder.path()).unwrap();
    let entries = reading.log.unwrap().entries;
    let written: Vec<&str> = entries.iter().map(|entry| entry.note.as_str()).collect();
    for note in &told {
        assert!(
            written.contains(&note.as_str()),
            "{note} is gone: {written:?}"
        );
    }
}

#[test]
fn a_power_cut_while_planning_leaves_no_file_half_written() {
    let folder = laid();
    let mut rng = Pcg64::seed_from_u64(2);
    for i in 0..often("TWINSTRAKE_FAULTS", 40) / 2 {
        tell(&folder, if i % 2 == 0 { "lost C1" } else { "found C1" }).ended(0);
        let mut lay = Command::new(PROGRAM);
        lay.arg("lay").arg(folder.path()).args(["--rounds", "0"]);
        let child = lay
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        kill_after(child, Duration::from_millis(rng.random_range(0..250)));
        let reading = job::read(folder.path()).unwrap();
        assert_eq!(reading.log.unwrap().entries.len(), i + 1);
        job::read_plan(folder.path(), &reading.job).unwrap();
        assert!(twinstrake::out::told(folder.path()).unwrap().is_some());
        // Whoever looks next finds the files of one plan, wherever the writing was cut short.
        folder.run("status", &[]).ended(0);
        assert!(
            belong_together(&folder),
            "files of two plans after kill {i}"
        );
        for (name, bytes) in folder.out() {
            let end: &[u8] = match name.rsplit('.').next().unwrap() {
                "svg" => b"</svg>",
                "json" => b"}",
                "html" => b"</html>",
                "csv" => b"\n",
                _ => continue,
            };
            let text = bytes.trim_ascii_end();
            let whole = if end == b"\n" {
                bytes.ends_with(end)
            } else {
                text.ends_with(end)
            };
            assert!(whole, "{name} is cut off");
        }
    }
    // And it can be planned again, as if nothing had happened.
    folder.run("lay", &["--rounds", "0"]).ended(0);
    folder.run("check", &[]).ended(0);
}

/// Whether the laying order and plan.json tell of the same pieces.
fn belong_together(folder: &Folder) -> bool {
    let told: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    let told: Vec<String> = told["laying_order"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| {
            format!(
                "{} {}",
                row["strip"].as_str().unwrap(),
                row["mark"].as_str().unwrap()
            )
        })
        .collect();
    let rows = rows(folder, "out/laying-order.csv");
    let rows: Vec<String> = rows
        .iter()
        .map(|row| format!("{} {}", row[5], row[14]))
        .collect();
    told == rows
}

#[test]
fn a_plan_cut_short_between_two_of_its_files_is_read_whole_and_brought_to_its_end_by_whoever_writes()
 {
    let folder = laid();
    let old = folder.out();
    // A strip that the plan counts on: the new plan must be another.
    let used = rows(&folder, "out/laying-order.csv")[0][5].clone();
    tell(&folder, &format!("lost {used}")).ended(0);
    again_quickly(&folder).ended(0);
    let new = folder.out();
    assert_ne!(old["laying-order.csv"], new["laying-order.csv"]);
    let files: Vec<&str> = twinstrake::out::FILES.map(|file| &file[4..]).to_vec();
    for command in ["check", "status", "labels", "sheets", "lay"] {
        for cut in 0..=files.len() {
            let out = folder.path().join("out");
            let ready = out.join(".twinstrake-ready");
            fs::create_dir(&ready).unwrap();
            let mut list = String::new();
            for (i, file) in files.iter().enumerate() {
                // So many have their names already.
                let (place, other) = (out.join(file), ready.join(file));
                let bytes = if i < cut { &new[*file] } else { &old[*file] };
                fs::write(&place, bytes).unwrap();
                if i >= cut {
                    fs::write(&other, &new[*file]).unwrap();
                }
                list += &format!("{:x}  {file}\n", Sha256::digest(&new[*file]));
            }
            fs::write(ready.join("files.sha256"), list).unwrap();
            let reads = ["check", "status"].contains(&command);
            let before = folder.out();
            let said = folder.run(command, &[]).ended(0).stdout;
            if reads {
                // It writes nothing, and says what it says of the new plan.
                assert!(folder.out() == before && ready.exists());
                folder.run("lay", &[]).ended(0);
                assert_eq!(
                    folder.run(command, &[]).ended(0).stdout,
                    said,
                    "{command}, {cut}"
                );
            }
            assert!(!ready.exists());
            for file in &files {
                assert_eq!(
                    fs::read(out.join(file)).unwrap(),
                    new[*file],
                    "{command}, {cut}: {file}"
                );
            }
        }
    }
}

#[test]
fn a_full_disk_is_told_and_loses_no_entry() {
    // The shell lets no file grow beyond one block (512 or 1024 bytes).
    let folder = laid();
    let mut written = 0;
    for i in 0..40 {
        let output = Command::new("sh")
            .args([
                "-c",
                "trap '' XFSZ; ulimit -f 1; exec \"$0\" log --job \"$1\" shade C1 5 --note \"$2\"",
            ])
            .arg(PROGRAM)
            .arg(folder.path())
            .arg(format!("number {i}"))
            .output()
            .unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        match output.status.code() {
            Some(0) => written += 1,
            code => {
                assert_eq!(code, Some(3), "{stderr}");
                stderr.begins("Nothing was logged.");
                stderr.says("The log is as it was.");
                break;
            }
        }
    }
    assert!((1..40).contains(&written));
    assert_eq!(rows(&folder, "log.csv").len(), written);
    // With room on the disk it goes on, and nothing is torn.
    let ran = tell(&folder, "lost C2").ended(0);
    assert_eq!(ran.stderr, "");
    assert_eq!(rows(&folder, "log.csv").len(), written + 1);
}

#[test]
fn a_folder_for_reading_only_is_told_and_loses_nothing() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    let before = folder.read("log.csv");
    let locked = |mode: u32, file: u32| {
        fs::set_permissions(
            folder.path().join("log.csv"),
            fs::Permissions::from_mode(file),
        )
        .unwrap();
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(mode)).unwrap();
    };
    locked(0o555, 0o444);
    let mut command = log(&folder, &["lost", "C2"]);
    // Whoever may do everything is made somebody who may not.
    if fs::metadata("/proc/self").unwrap().uid() == 0 {
        command.uid(65534).gid(65534);
    }
    let mut lay = Command::new(PROGRAM);
    lay.arg("lay").arg(folder.path()).args(["--rounds", "0"]);
    let plan = folder.out();
    let out = folder.path().join("out");
    fs::set_permissions(&out, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::metadata("/proc/self").unwrap().uid() == 0 {
        lay.uid(65534).gid(65534);
    }
    let told = command.stderr(Stdio::piped()).output().unwrap();
    let planned = lay.output().unwrap();
    fs::set_permissions(&out, fs::Permissions::from_mode(0o755)).unwrap();
    locked(0o755, 0o644);
    for output in [told, planned] {
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3), "{stderr}");
        stderr.says("you may not write there");
    }
    assert_eq!(folder.read("log.csv"), before);
    assert!(folder.out() == plan);
}

#[test]
fn two_writers_at_once_lose_no_entry_of_each_other() {
    let folder = laid();
    let count = often("TWINSTRAKE_WRITES", 100);
    let writers: Vec<Child> = ["C1", "D1"]
        .into_iter()
        .map(|strip| {
            let mut writer = log(&folder, &["-"])
                .stdin(Stdio::piped())
                .stdout(Stdio::null())
                .spawn()
                .unwrap();
            let mut input = writer.stdin.take().unwrap();
            let lines: String = (0..count)
                .map(|i| format!("shade {strip} {}\n", i % 9 + 1))
                .collect();
            std::thread::spawn(move || input.write_all(lines.as_bytes()).unwrap());
            writer
        })
        .collect();
    for mut writer in writers {
        assert!(writer.wait().unwrap().success());
    }
    let logged = rows(&folder, "log.csv");
    assert_eq!(logged.len(), 2 * count);
    for strip in ["C1", "D1"] {
        let shades = logged.iter().filter(|row| row[7] == strip);
        assert_eq!(shades.count(), count);
    }
    for (i, row) in logged.iter().enumerate() {
        assert_eq!(row[0], (i + 1).to_string());
    }
}
