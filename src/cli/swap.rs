//! `swap`: two places change their wood by hand. It shows what that would do, and keeps it where that is asked.

use super::again::{self, Before};
use super::args::Swap;
use super::opened::{self, unreadable};
use super::pin;
use super::say::{self, Swapped};
use super::shown::shown;
use super::status::{Ended, Status};
use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::check::{Verdict, Wrong, check};
use twinstrake::disk::{self, write_whole};
use twinstrake::draw;
use twinstrake::hull::{Course, CourseId, CourseName, Side};
use twinstrake::job::{self, Job, Reading};
use twinstrake::log::Book;
use twinstrake::out::{self, Again, Fault, Made};
use twinstrake::plan::{Piece, Plan, Want};
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

pub fn run(typed: &Swap) -> Ended {
    let before = Before::look(&typed.dir);
    let (mut reading, plan) = opened::job_and_plan(&typed.dir)?;
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
) -> Ended {
    let job = &reading.job;
    let (spots, changed) = changed(job, plan, one, other).map_err(|why| say::bad_input(&why))?;
    let courses: Vec<CourseId> = spots.iter().map(|spot| spot.course).collect();
    let pins = match typed.pin {
        true => pins(job, &changed, &courses),
        false => Vec::new(),
    };
    // With a pin, the pins of before give way to the new ones.
    let to_be = with_pins(job, &pins);
    let verdicts = (check(job, plan), check(&to_be, &changed));
    let picture = draw::beside(job, &courses, (plan, &verdicts.0), (&changed, &verdicts.1));
    out::write_files(&typed.dir, &[(PICTURE, picture.into_bytes())]).map_err(failed)?;
    let swapped = Swapped {
        dir: &typed.dir,
        job,
        before: (plan, &verdicts.0),
        after: (&changed, &verdicts.1),
    };
    let told = say::swapped(&swapped);
    let sound = verdicts.1.is_good();
    if !(typed.keep || typed.pin) {
        let said = told + &say::not_kept(sound);
        return Ok(say::last(&said, Status::good_if(sound), UNSAID));
    }
    if !sound {
        return Err(say::bad_input(&(told + &say::breaks_a_rule())));
    }
    if !typed.pin {
        return kept(typed, before, reading, &changed, &pins, &told);
    }
    let panel = |want: &Want| job.hull.panel(want.panel).name.as_str();
    let named: Vec<(&str, Want)> = pins
        .iter()
        .map(|want| (panel(want), want.clone()))
        .collect();
    with_boat(
        &typed.dir,
        reading,
        |boat| pin::with(boat, &named),
        |anew| match check(&anew.job, &changed).is_good() {
            true => kept(typed, before, anew, &changed, &pins, &told),
            false => Err(say::bad_input(&say::pin_breaks_a_rule())),
        },
    )
}

const UNSAID: &str = "It is done, but that could not be printed";

/// The places, and the plan with their wood changed.
fn changed(job: &Job, plan: &Plan, one: &str, other: &str) -> Result<(Vec<Spot>, Plan), String> {
    let (spots, changed) = match (typed(job, one)?, typed(job, other)?) {
        (Typed::Spot(one), Typed::Spot(other)) => {
            (vec![one, other], exchanged(job, plan, one, other))
        }
        (Typed::Spot(spot), Typed::Wood(wood)) | (Typed::Wood(wood), Typed::Spot(spot)) => {
            let elsewhere = |piece: &&Piece| {
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
    let names = text.split('+').map(str::trim);
    let wood: Option<Vec<StripId>> = names.map(|name| job.stock.named(name)).collect();
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
    let named = |(_, course): &(CourseId, &Course)| {
        course.name() == name && job.hull.panel(course.panel).name == panel
    };
    let (course, _) = job.hull.courses().find(named)?;
    Some(Spot { course, piece })
}

/// Edits boat.toml, and does what follows with the job as it is then.
///
/// Errors: how the command ends; why is said already, and boat.toml is as it was.
fn with_boat(
    dir: &Path,
    reading: &Reading,
    edit: impl FnOnce(&[u8]) -> Option<Vec<u8>>,
    then: impl FnOnce(&Reading) -> Ended,
) -> Ended {
    let file = disk::no_link_to(dir, Path::new(BOAT)).map_err(failed)?;
    let old = disk::read(&file).map_err(|error| failed(Fault::refused(&file, error)))?;
    let new = edit(&old).ok_or_else(|| say::bad_input(&say::no_room_for_pins()))?;
    write_whole(&file, &new).map_err(failed)?;
    let with_earlier = |anew: Reading| Reading {
        job: Job {
            earlier: reading.job.earlier.clone(),
            ..anew.job
        },
        ..anew
    };
    let done = match job::read(dir) {
        Ok(anew) => then(&with_earlier(anew)),
        Err(complaints) => Err(unreadable(&complaints)),
    };
    if done.is_err() {
        write_whole(&file, &old).map_err(failed)?;
    }
    done
}

/// The wants that hold what a plan lays on some courses, each name once.
fn pins(job: &Job, plan: &Plan, courses: &[CourseId]) -> Vec<Want> {
    let mut pins: Vec<Want> = Vec::new();
    for course in courses {
        let pin = want(job, plan, *course);
        if pins.iter().all(|other| other.name != pin.name) {
            pins.push(pin);
        }
    }
    pins
}

/// The job with some wants more, in place of those of the same name.
fn with_pins(job: &Job, pins: &[Want]) -> Job {
    let mut to_be = job.clone();
    let is_new = |old: &Want| pins.iter().all(|pin| pin.name != old.name);
    to_be.wants.retain(is_new);
    to_be.wants.extend(pins.iter().cloned());
    to_be
}

/// What a pin is called.
fn pin_name(job: &Job, course: CourseId) -> String {
    let number = job.hull.course(course).number;
    format!("{} {number} by hand", job.hull.panel_of(course).name)
}

/// The want that holds what a plan lays on a course.
fn want(job: &Job, plan: &Plan, id: CourseId) -> Want {
    let course = job.hull.course(id);
    let name = |strip: &StripId| job.stock.strip(*strip).name.clone();
    let wood = |of: &dyn Fn(&Piece) -> bool| -> BTreeSet<StripId> {
        let pieces = plan.pieces.iter().filter(|piece| of(piece));
        pieces.map(|piece| piece.strip).collect()
    };
    let used = wood(&|piece| piece.course == id);
    let elsewhere = wood(&|piece| piece.course != id);
    let to_port = wood(&|piece| piece.course == id && piece.side == Side::Port);
    // A stretch shares its number with others: there the want is for all of them.
    let of_number = |other: CourseId| {
        let other = job.hull.course(other);
        (other.panel, other.number) == (course.panel, course.number)
    };
    let strips = wood(&|piece| of_number(piece.course));
    let alone = job.hull.courses().filter(|c| of_number(c.0)).count() == 1;
    let halves = alone && used.len() == 2 && to_port.len() == 1;
    Want {
        name: pin_name(job, id),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        wood: None,
        boards: Vec::new(),
        port: to_port.first().filter(|_| halves).map(name),
        strips: strips.iter().map(name).collect(),
        keep: used.is_disjoint(&elsewhere),
        accent: None,
    }
}

/// Makes it the plan; the one before is kept under its number.
fn kept(
    typed: &Swap,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    pins: &[Want],
    told: &str,
) -> Ended {
    let number = before.number.map_or(1, |number| number + 1);
    let said = told.to_owned() + &say::kept(&typed.dir, number, pins);
    in_force(typed, before, reading, plan, number, &said)
}

/// Writes the plan under its number, and says what is to be said.
fn in_force(
    typed: &Swap,
    before: &Before,
    reading: &Reading,
    plan: &Plan,
    number: u32,
    said: &str,
) -> Ended {
    let verdict = check(&reading.job, plan);
    written(&typed.dir, before, reading, plan, &verdict, number).map_err(failed)?;
    Ok(say::last(
        said,
        Status::good_if(plan.uncovered.is_empty()),
        UNSAID,
    ))
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
    let mut book = Book::open_if_there(dir)?;
    if let Some(book) = &mut book {
        again::settle(dir, before, reading, book)?;
    }
    // Without a log the plan before is kept all the same: there is a way back.
    if book.is_none() || reading.log.is_none() {
        before
            .number
            .map_or(Ok(()), |number| out::keep(dir, number))?;
    }
    let made = Made {
        inputs: reading.digests.clone(),
        ended: "by-hand".into(),
        cost: verdict.cost,
        bound_reason: "changed by hand".into(),
        again: Again {
            number,
            ..before.again(reading)
        },
        ..Made::default()
    };
    let facts = say::of_the_plan(&reading.job, plan, verdict);
    let shown = shown(dir, reading, plan, verdict, &facts, None)?;
    out::write(dir, &reading.job, plan, &made, shown)
}

/// Takes up the plan before the one in force.
fn back(typed: &Swap, before: &Before, reading: &Reading) -> Ended {
    let job = &reading.job;
    let earlier =
        |number: &u32| job::read_earlier(&typed.dir, &out::earlier_laying_order(*number), job);
    let found = (1..before.number.unwrap_or(1))
        .rev()
        .find_map(|number| Some((number, earlier(&number)?)));
    let Some((number, plan)) = found else {
        return Err(say::bad_input(&say::no_plan_before()));
    };
    let verdict = check(job, &plan);
    if verdict.is_good() {
        return in_force(
            typed,
            before,
            reading,
            &plan,
            number,
            &say::took_back(number, &[]),
        );
    }
    let pins = pins_in_the_way(job, &verdict);
    let without = |want: &Want| !pins.contains(&want.name);
    let mut to_be = job.clone();
    to_be.wants.retain(without);
    if pins.is_empty() || !check(&to_be, &plan).is_good() {
        say::err(&say::verdict(job, &plan, &verdict));
        return Err(say::bad_input(&say::earlier_breaks_a_rule(number)));
    }
    with_boat(
        &typed.dir,
        reading,
        |boat| pin::without(boat, &pins),
        |anew| {
            in_force(
                typed,
                before,
                anew,
                &plan,
                number,
                &say::took_back(number, &pins),
            )
        },
    )
}

/// The pins that a plan goes against.
fn pins_in_the_way(job: &Job, verdict: &Verdict) -> Vec<String> {
    let pins: BTreeSet<String> = job
        .hull
        .courses()
        .map(|(id, _)| pin_name(job, id))
        .collect();
    let against = verdict
        .breaches
        .iter()
        .filter_map(|breach| match &breach.wrong {
            Wrong::NotWanted { want, .. }
            | Wrong::WantedAcross { want, .. }
            | Wrong::Kept(want) => Some(want.clone()),
            _ => None,
        });
    let against: BTreeSet<String> = against.collect();
    pins.intersection(&against).cloned().collect()
}

fn failed(fault: Fault) -> Status {
    say::at_fault(&say::fault(&fault))
}
