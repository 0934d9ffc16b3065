//! A job folder on disk, and the program run on it.

use assert_cmd::Command;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const BOAT: &str = r##"name = "Skiff"
units = "mm"

[strip]
width = 19
thickness = 6

[joint]
slope = 8
clear = 300
clear_courses = 2
shortest_piece = 600
most = 1

[allow]
fitted_end = 25
free_end = 50
saw = 3

[[panel]]
name = "side"
toward = "keel"
"##;

/// Two mirrored courses of 3 m and a centre course of 2 m. With 25 mm at each end: two pairs of 3050 mm and a strip of
/// 2050 mm.
const COURSES: &str = "\
panel,course,kind,from,to
side,1,mirrored,0,3000
side,2,mirrored,0,3000
side,3,centre,500,2500
";

/// Two pairs and a single strip, each 50 mm longer than it need be.
const STRIPS: &str = "\
strip,board,seq,length,colour
A1,A,1,3100,4
A2,A,2,3100,4
B1,B,1,3100,6
B2,B,2,3100,6
S1,,,2100,5
";

/// A job folder that is gone when dropped.
pub struct Folder(TempDir);

impl Folder {
    /// A small job that can be laid.
    pub fn small() -> Folder {
        let folder = Folder(TempDir::new().unwrap());
        folder.write("boat.toml", BOAT);
        folder.write("courses.csv", COURSES);
        folder.write("strips.csv", STRIPS);
        folder
    }

    /// The same with a plan.
    pub fn laid() -> Folder {
        let folder = Folder::small();
        folder.lay().ended(0);
        folder
    }

    /// The demo job.
    pub fn demo() -> Folder {
        let folder = Folder(TempDir::new().unwrap());
        for file in [
            "boat.toml",
            "forms.csv",
            "offsets.csv",
            "boards.csv",
            "strips.csv",
        ] {
            let text = fs::read_to_string(Path::new("demo-stock").join(file)).unwrap();
            folder.write(file, &text);
        }
        folder
    }

    pub fn path(&self) -> &Path {
        self.0.path()
    }

    pub fn write(&self, file: &str, text: &str) {
        let path = self.path().join(file);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub fn read(&self, file: &str) -> String {
        fs::read_to_string(self.path().join(file)).unwrap()
    }

    pub fn has(&self, file: &str) -> bool {
        self.path().join(file).exists()
    }

    /// Puts one text of a file in place of another that is there just once.
    pub fn change(&self, file: &str, old: &str, new: &str) {
        let text = self.read(file);
        assert_eq!(text.matches(old).count(), 1, "{old} in {file}:\n{text}");
        self.write(file, &text.replace(old, new));
    }

    /// The files in `out/`, with what is in them; empty where there is no such folder.
    pub fn out(&self) -> BTreeMap<String, Vec<u8>> {
        let Ok(entries) = fs::read_dir(self.path().join("out")) else {
            return BTreeMap::new();
        };
        entries
            .map(|entry| entry.unwrap())
            .filter(|entry| entry.path().is_file())
            .map(|entry| {
                let name = entry.file_name().into_string().unwrap();
                (name, fs::read(entry.path()).unwrap())
            })
            .collect()
    }

    /// Runs a command on the folder.
    pub fn run(&self, command: &str, options: &[&str]) -> Ran {
        self.run_with(command, options, &[])
    }

    /// The same with something in its environment.
    pub fn run_with(&self, command: &str, options: &[&str], env: &[(&str, &str)]) -> Ran {
        ran(twinstrake()
            .arg(command)
            .arg(self.path())
            .args(options)
            .envs(env.iter().copied()))
    }

    /// Lays the job in as little time as can be: any plan will do.
    pub fn lay(&self) -> Ran {
        self.run("lay", &["--rounds", "0"])
    }

    /// The same folder once more, with all that is in it.
    pub fn copy(&self) -> Folder {
        let copy = Folder(TempDir::new().unwrap());
        copy_all(self.path(), copy.path());
        copy
    }
}

fn copy_all(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).unwrap() {
        let (path, to) = (
            entry.as_ref().unwrap().path(),
            to.join(entry.unwrap().file_name()),
        );
        match path.is_dir() {
            true => {
                fs::create_dir(&to).unwrap();
                copy_all(&path, &to);
            }
            false => drop(fs::copy(&path, &to).unwrap()),
        }
    }
}

/// The program, without what the environment of the tests may say about colour.
pub fn twinstrake() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_twinstrake"));
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

/// How a run ended.
pub struct Ran {
    pub status: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

pub fn ran(command: &mut Command) -> Ran {
    let output = command.output().unwrap();
    Ran {
        status: output.status.code(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
    }
}

impl Ran {
    #[track_caller]
    pub fn ended(self, status: i32) -> Ran {
        let (stdout, stderr) = (&self.stdout, &self.stderr);
        assert_eq!(
            self.status,
            Some(status),
            "stdout:\n{stdout}\nstderr:\n{stderr}"
        );
        self
    }

    /// The words of the first line on stdout that begins so.
    #[track_caller]
    pub fn row(&self, begins: &str) -> Vec<&str> {
        let mut lines = self.stdout.lines();
        let line = lines.find(|line| line.trim_start().starts_with(begins));
        assert!(line.is_some(), "{begins} in:\n{}", self.stdout);
        line.unwrap_or_default().split_whitespace().collect()
    }

    /// Said on stdout.
    #[track_caller]
    pub fn says(&self, words: &str) {
        assert!(self.stdout.contains(words), "{words} in:\n{}", self.stdout);
    }

    /// Said on stderr.
    #[track_caller]
    pub fn warns(&self, words: &str) {
        assert!(self.stderr.contains(words), "{words} in:\n{}", self.stderr);
    }
}
