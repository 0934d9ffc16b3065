//! Hands the jobs of the benchmarks to solvers outside: a job folder, and the same job as plain numbers beside it.
//!
//! `cargo bench --bench side_by_side -- KIND SEED FOLDER`. What the numbers mean is in `side_by_side/README.md`.

#![allow(clippy::unwrap_used)]

mod kinds;

use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use twinstrake::hull::{Kind, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Edge, Edges};
use twinstrake::solve::problem::Problem;
use twinstrake::units::Length;

fn main() {
    let typed: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let [kind, seed, folder] = typed.as_slice() else {
        println!("KIND SEED FOLDER are needed: see benches/side_by_side/README.md");
        return;
    };
    let Some(job) = seed.parse().ok().and_then(|seed| kinds::job(kind, seed)) else {
        println!("{kind} {seed}: no such kind, or the seed is no number");
        return;
    };
    let hull = &job.hull;
    let is_plain = hull.show.is_empty()
        && job.wants.is_empty()
        && hull.courses.iter().all(|c| c.kind == Kind::Mirrored)
        && (hull.panels.iter()).all(|p| p.look == 1.0 && p.drift.is_none());
    assert!(is_plain, "the models know nothing of what this job asks");
    let folder = Path::new(folder);
    fs::create_dir_all(folder).unwrap();
    match kinds::folder(kind) {
        Some(from) => {
            for file in fs::read_dir(from).unwrap() {
                let file = file.unwrap();
                if file.file_type().unwrap().is_file() {
                    fs::copy(file.path(), folder.join(file.file_name())).unwrap();
                }
            }
        }
        None => {
            fs::write(folder.join("boat.toml"), boat(&job)).unwrap();
            fs::write(folder.join("courses.csv"), courses(&job)).unwrap();
            fs::write(folder.join("strips.csv"), strips(&job)).unwrap();
        }
    }
    let numbers = serde_json::to_string(&numbers(&job)).unwrap();
    fs::write(folder.join("numbers.json"), numbers).unwrap();
    let read = twinstrake::job::read(folder).unwrap();
    let same = (read.job.stock.strips.len(), read.job.hull.courses.len())
        == (job.stock.strips.len(), job.hull.courses.len());
    assert!(same, "what was written is not the job");
    println!("{}", folder.display());
}

fn boat(job: &Job) -> String {
    let rules = &job.rules;
    let edges = match rules.edges {
        Edges::Square => "edges = \"square\"".to_string(),
        Edges::BeadAndCove { next_edge } => format!(
            "edges = \"bead-and-cove\"\nnext_edge = \"{}\"",
            if next_edge == Edge::A { "A" } else { "B" }
        ),
    };
    let mut text = format!(
        "name = \"{}\"\nunits = \"mm\"\n\n[strip]\nwidth = {}\nthickness = {}\n{edges}\n\n\
         [joint]\nslope = {}\nclear = {}\nclear_courses = {}\nshortest_piece = {}\nmost = {}\n\n\
         [allow]\nfitted_end = {}\nfree_end = {}\nsaw = {}\n",
        job.name,
        rules.width.mm(),
        rules.thickness.mm(),
        rules.joints.slope,
        rules.joints.clear.mm(),
        rules.joints.clear_courses,
        rules.joints.shortest_piece.mm(),
        rules.joints.most,
        rules.allow.fitted_end.mm(),
        rules.allow.free_end.mm(),
        rules.allow.saw.mm(),
    );
    for panel in &job.hull.panels {
        let toward = match panel.toward {
            Toward::Keel => "keel",
            Toward::Deck => "deck",
        };
        text += &format!(
            "\n[[panel]]\nname = \"{}\"\ntoward = \"{toward}\"\nlook = {:?}\n",
            panel.name, panel.look
        );
    }
    for zone in &job.hull.keep_clear {
        text += &format!(
            "\n[[keep_clear]]\npanel = \"{}\"\nfrom = {}\nto = {}\n",
            job.hull.panel(zone.panel).name,
            zone.from.mm(),
            zone.to.mm()
        );
    }
    for show in &job.hull.show {
        text += &format!(
            "\n[[show]]\npanel = \"{}\"\nfrom = {}\nto = {}\ntimes = {:?}\n",
            job.hull.panel(show.zone.panel).name,
            show.zone.from.mm(),
            show.zone.to.mm(),
            show.times
        );
    }
    text
}

fn courses(job: &Job) -> String {
    let mut text = String::from("panel,course,kind,from,to,length\n");
    for course in &job.hull.courses {
        let kind = match course.kind {
            Kind::Mirrored => "mirrored",
            Kind::Centre => "centre",
        };
        text += &format!(
            "{},{},{kind},{},{},{}\n",
            job.hull.panel(course.panel).name,
            course.number,
            course.from.mm(),
            course.to.mm(),
            course.length.mm()
        );
    }
    text
}

fn strips(job: &Job) -> String {
    let mut text = String::from("strip,board,seq,length,colour,defects\n");
    for strip in &job.stock.strips {
        let origin = strip.origin.unwrap();
        let defects: Vec<String> = strip
            .defects
            .iter()
            .map(|defect| format!("{}-{}", defect.from.mm(), defect.to.mm()))
            .collect();
        text += &format!(
            "{},{},{},{},{} {} {},{}\n",
            strip.name,
            job.stock.boards[origin.board.0],
            origin.seq,
            strip.length.mm(),
            strip.colour.l,
            strip.colour.a,
            strip.colour.b,
            defects.join("; ")
        );
    }
    text
}

/// The job as plain numbers, in mm: what a solver needs that knows nothing of wood.
fn numbers(job: &Job) -> Value {
    let problem = Problem::new(job);
    let n = problem.woods.len();
    let places = |all: &[(Length, Length)]| -> Vec<[f64; 2]> {
        all.iter().map(|(from, to)| [from.mm(), to.mm()]).collect()
    };
    let differences: Vec<Vec<f64>> = (0..n as u32)
        .map(|a| (0..n as u32).map(|b| problem.difference(a, b)).collect())
        .collect();
    let strips: Vec<Value> = job
        .stock
        .strips
        .iter()
        .zip(&problem.woods)
        .map(|(strip, wood)| {
            let origin = strip.origin.unwrap();
            json!({
                "name": strip.name,
                "board": origin.board.0,
                "seq": origin.seq,
                "clear": places(&wood.clear),
            })
        })
        .collect();
    let courses: Vec<Value> = job
        .hull
        .courses
        .iter()
        .zip(&problem.rows)
        .map(|(course, row)| {
            json!({
                "panel": job.hull.panel(course.panel).name,
                "name": course.name().to_string(),
                "from": course.from.mm(),
                "to": course.to.mm(),
                "length": course.length.mm(),
                "allow": row.allow.map(Length::mm),
                "windows": places(&row.joint_windows),
            })
        })
        .collect();
    let weights = job.weights;
    json!({
        "strips": strips,
        "courses": courses,
        "seams": problem.seams.iter().map(|seam| [seam.upper, seam.lower]).collect::<Vec<_>>(),
        "difference": differences,
        "half_scarf": problem.half_scarf.mm(),
        "saw": problem.saw.mm(),
        "clear": problem.clear,
        "clear_courses": job.rules.joints.clear_courses,
        "most": job.rules.joints.most,
        "weights": {
            "board": weights.board, "skip": weights.skip, "shift": weights.shift,
            "foster": weights.foster, "joint": weights.joint, "cut": weights.cut,
        },
    })
}
