//! `swap`: two places change their wood by hand. It shows what that would do, and keeps it where that is asked.

use super::again::{self, Before};
use super::args::Swap;
use super::opened;
use super::say::{self, Swapped};
use super::shown::shown;
use super::status::Status;
use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::check::{Verdict, check};
use twinstrake::disk::write_whole;
use twinstrake::draw;
use twinstrake::hull::{CourseId, CourseName, Side};
use twinstrake::job::{self, Complaint, Job, Reading};
use twinstrake::out::{self, Again, Fault, Made};
use twinstrake::plan::{Plan, Want};
use twinstrake::solve::{Spot, exchanged, relaid};
use twinstrake::stock::StripId;

const BOAT: &str = "boat.toml";
/// The pictures before and after, in `out/`.
const PICTURE: &str = "swap.svg";

/// What was typed: a place on the boat, or wood in the rack.
enum Typed {
    Spot(Spot),
    Wood(Vec<StripId>),
}

pub(super) fn run(typed: &Swap) -> Status {
    let before = Before::look(&typed.dir);
    let (mut reading, plan) = match opened::job_and_plan(&typed.dir) {
        Ok(both) => both,
        Err(status) => return status,
    };
    if reading.log.is_some() {
        reading.job.earlier = job::read_earlier(&typed.dir, out::LAYING_ORDER, &reading.job);
    }
    match (&typed.one, &typed.other) {
        (Some(one), Some(other)) => change(typed, &before, &reading, &plan, one, other),
        _ => back(typed, &before, &reading),
    }
}

fn change(
    typed: &Swap,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    one: &str,
    other: &str,
) -> Status {
    let job = &reading.job;
    let (spots, changed) = match changed(job, plan, one, other) {
        Ok(changed) => changed,
        Err(why) => return refused(&why),
    };
    let verdicts = (check(job, plan), check(job, &changed));
    let courses: Vec<CourseId> = spots.iter().map(|spot| spot.course).collect();
    let picture = draw::beside(job, &courses, (plan, &verdicts.0), (&changed, &verdicts.1));
    if let Err(fault) = out::write_paper(&typed.dir, &[(PICTURE, picture.into_bytes())]) {
        return failed(&fault);
    }
    let swapped = Swapped {
        dir: &typed.dir,
        job,
        before: (plan, &verdicts.0),
        after: (&changed, &verdicts.1),
    };
    let told = say::swapped(&swapped);
    let sound = verdicts.1.is_good();
    if !(typed.keep || typed.pin) {
        return say::last(
            &(told + &say::not_kept(sound)),
            Status::good_if(sound),
            UNSAID,
        );
    }
    if !sound {
        return refused(&(told + &say::breaks_a_rule()));
    }
    if typed.pin {
        return pinned(typed, before, reading, &changed, &courses, &told);
    }
    kept(typed, before, reading, &changed, None, &told)
}

const UNSAID: &str = "It is done, but that could not be printed";

/// The places, and the plan with their wood changed.
fn changed(job: &Job, plan: &Plan, one: &str, other: &str) -> Result<(Vec<Spot>, Plan), String> {
    let (spots, changed) = match (typed(job, one)?, typed(job, other)?) {
        (Typed::Spot(one), Typed::Spot(other)) => {
            (vec![one, other], exchanged(job, plan, one, other))
        }
        (Typed::Spot(spot), Typed::Wood(wood)) | (Typed::Wood(wood), Typed::Spot(spot)) => {
            let elsewhere = |piece: &&twinstrake::plan::Piece| {
                let here = piece.course == spot.course
                    && spot.piece.is_none_or(|number| number == piece.number);
                wood.contains(&piece.strip) && !here
            };
            if let Some(piece) = plan.pieces.iter().find(elsewhere) {
                return Err(say::not_in_the_rack(job, piece));
            }
            (vec![spot], relaid(job, plan, spot, &wood))
        }
        (Typed::Wood(_), Typed::Wood(_)) => return Err(say::no_place_named()),
    };
    let changed = changed.map_err(|why| say::unmoved(job, why))?;
    Ok((spots, changed))
}

fn typed(job: &Job, text: &str) -> Result<Typed, String> {
    if let Some(spot) = spot(job, text) {
        return Ok(Typed::Spot(spot));
    }
    let strip = |name: &str| {
        let mut strips = job.stock.strips.iter();
        strips
            .position(|strip| strip.name == name.trim())
            .map(StripId)
    };
    let wood: Option<Vec<StripId>> = text.split('+').map(strip).collect();
    wood.map(Typed::Wood)
        .ok_or_else(|| say::neither_place_nor_wood(job, text))
}

/// `topside 3`, `topside 3.2` for its second piece; without the panel where there is only one.
fn spot(job: &Job, text: &str) -> Option<Spot> {
    let (panel, course) = match text.trim().rsplit_once(' ') {
        Some((panel, course)) => (panel.trim(), course),
        None => match &job.hull.panels[..] {
            [only] => (only.name.as_str(), text.trim()),
            _ => return None,
        },
    };
    let (name, piece) = match course.split_once('.') {
        Some((name, piece)) => (
            name,
            Some(piece.parse::<u32>().ok().filter(|piece| *piece > 0)?),
        ),
        None => (course, None),
    };
    let name: CourseName = name.parse().ok()?;
    let named = |(_, course): &(CourseId, &twinstrake::hull::Course)| {
        course.name() == name && job.hull.panel(course.panel).name == panel
    };
    let (course, _) = job.hull.courses().find(named)?;
    Some(Spot { course, piece })
}

/// Writes the wants into boat.toml, and then the plan that keeps them. Where the plan can't be written, boat.toml is
/// as it was.
fn pinned(
    typed: &Swap,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    courses: &[CourseId],
    told: &str,
) -> Status {
    let file = typed.dir.join(BOAT);
    let old = match twinstrake::disk::read(&file) {
        Ok(bytes) => bytes,
        Err(error) => return failed(&Fault::refused(&file, error)),
    };
    let mut text = old.clone();
    let mut names = Vec::new();
    for course in courses.iter().collect::<BTreeSet<_>>() {
        let want = want(&reading.job, plan, *course);
        let panel = &reading.job.hull.panel(want.panel).name;
        match job::with_want(&text, panel, &want) {
            Ok(pinned) => text = pinned,
            Err(complaint) => return complained(&[*complaint]),
        }
        names.push(want.name);
    }
    if let Err(fault) = write_whole(&file, &text) {
        return failed(&fault);
    }
    let undone = || write_whole(&file, &old).err();
    let anew = job::read(&typed.dir).map(|anew| Reading {
        job: Job {
            earlier: reading.job.earlier.clone(),
            ..anew.job
        },
        ..anew
    });
    match anew {
        Ok(anew) if check(&anew.job, plan).is_good() => {
            kept(typed, before, &anew, plan, Some(&names), told)
        }
        Ok(_) => match undone() {
            Some(fault) => failed(&fault),
            None => refused(&say::pin_breaks_a_rule()),
        },
        Err(complaints) => match undone() {
            Some(fault) => failed(&fault),
            None => complained(&complaints),
        },
    }
}

/// The want that holds what a plan lays on a course.
fn want(job: &Job, plan: &Plan, id: CourseId) -> Want {
    let course = job.hull.course(id);
    let here: Vec<_> = plan
        .pieces
        .iter()
        .filter(|piece| piece.course == id)
        .collect();
    let name = |strip: StripId| job.stock.strip(strip).name.clone();
    let used: BTreeSet<StripId> = here.iter().map(|piece| piece.strip).collect();
    let elsewhere = plan
        .pieces
        .iter()
        .any(|piece| piece.course != id && used.contains(&piece.strip));
    let port = here
        .iter()
        .find(|piece| piece.side == Side::Port)
        .map(|piece| name(piece.strip));
    // A stretch shares its number with others: there the want is for all of them.
    let alone = job
        .hull
        .courses
        .iter()
        .filter(|c| c.panel == course.panel && c.number == course.number)
        .count()
        == 1;
    let mut strips: Vec<String> = used.iter().map(|strip| name(*strip)).collect();
    if !alone {
        let also = job
            .hull
            .courses()
            .filter(|(_, c)| c.panel == course.panel && c.number == course.number);
        let also: BTreeSet<CourseId> = also.map(|(id, _)| id).collect();
        let all = plan
            .pieces
            .iter()
            .filter(|piece| also.contains(&piece.course));
        strips = all
            .map(|piece| piece.strip)
            .collect::<BTreeSet<_>>()
            .into_iter()
            .map(name)
            .collect();
    }
    Want {
        name: format!(
            "{} {} by hand",
            job.hull.panel(course.panel).name,
            course.number
        ),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        wood: None,
        boards: Vec::new(),
        port: port.filter(|_| alone && used.len() == 2),
        strips,
        keep: !elsewhere,
        accent: None,
    }
}

/// Makes it the plan; the one before is kept under its number.
fn kept(
    typed: &Swap,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    pins: Option<&[String]>,
    told: &str,
) -> Status {
    let number = before.number.map_or(1, |number| number + 1);
    let verdict = check(&reading.job, plan);
    match written(&typed.dir, before, reading, plan, &verdict, number) {
        Ok(()) => {
            let said = told.to_owned() + &say::kept(&typed.dir, number, pins);
            say::last(&said, Status::good_if(plan.uncovered.is_empty()), UNSAID)
        }
        Err(fault) => failed(&fault),
    }
}

fn written(
    dir: &Path,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    number: u32,
) -> Result<(), Fault> {
    // Held to the end: whoever logs meanwhile waits, and goes by the plan that is kept.
    let mut book = twinstrake::log::Book::open_if_there(dir)?;
    if let Some(book) = &mut book {
        again::set_torn_aside(book)?;
    }
    match (&mut book, &reading.log) {
        (Some(book), Some(_)) => again::keep(dir, before, reading, book)?,
        _ => before
            .number
            .map_or(Ok(()), |number| out::keep(dir, number))?,
    }
    let made = Made {
        digests: &reading.digests,
        seed: 0,
        rounds: 0,
        seconds: None,
        ended: "by-hand",
        cost: verdict.cost,
        bound: None,
        bound_reason: "changed by hand",
        again: Again {
            number,
            ..before.again(reading)
        },
        shortage: None,
    };
    let facts = say::of_the_plan(&reading.job, plan, verdict);
    let shown = shown(reading, plan, verdict, &facts, None)?;
    out::write(dir, &reading.job, plan, &made, shown)
}

/// Takes up the plan before the one in force.
fn back(typed: &Swap, before: &Before, reading: &Reading) -> Status {
    let job = &reading.job;
    let earlier =
        |number: &u32| job::read_earlier(&typed.dir, &out::earlier_laying_order(*number), job);
    let found = (1..before.number.unwrap_or(1))
        .rev()
        .find_map(|number| Some((number, earlier(&number)?)));
    let Some((number, plan)) = found else {
        return refused(&say::no_plan_before());
    };
    let verdict = check(job, &plan);
    if !verdict.is_good() {
        say::err(&say::verdict(job, &plan, &verdict));
        return refused(&say::earlier_breaks_a_rule(number));
    }
    match written(&typed.dir, before, reading, &plan, &verdict, number) {
        Ok(()) => say::last(
            &say::took_back(number),
            Status::good_if(plan.uncovered.is_empty()),
            UNSAID,
        ),
        Err(fault) => failed(&fault),
    }
}

fn failed(fault: &Fault) -> Status {
    say::err(&say::fault(fault));
    Status::Fault
}

fn refused(why: &str) -> Status {
    say::err(why);
    Status::BadInput
}

fn complained(complaints: &[Complaint]) -> Status {
    say::err(&say::complaints(complaints));
    Status::BadInput
}
