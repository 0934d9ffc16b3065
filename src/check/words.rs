//! Breaches in the builder's words: where, what, by how much.

use std::fmt;

use super::breach::{Breach, CoursePart, Tip, Where, Wrong};
use crate::units::{Length, U, Unit, counted};

impl fmt::Display for Breach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} (rule {}).", self.at, self.told(), self.rule())
    }
}

impl fmt::Display for Where {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} course {}", self.panel, self.course)?;
        if let Some(side) = self.side {
            write!(f, ", {}", side.name())?;
        }
        match self.part {
            CoursePart::Course => Ok(()),
            CoursePart::Piece(number) => write!(f, ", piece {number}"),
            CoursePart::Joint(number) => write!(f, ", joint {number}"),
        }
    }
}

impl Breach {
    fn told(&self) -> String {
        let strip = &self.strip;
        match &self.wrong {
            Wrong::NotCovered => {
                "nothing is laid here, and the course is not listed as left out".into()
            }
            Wrong::LeftOutButLaid(rows) => {
                format!(
                    "the course is listed as left out, yet it has {}",
                    counted(*rows, "row")
                )
            }
            Wrong::LeftOutTwice => "the course is listed as left out more than once".into(),
            Wrong::NoSuchSide => "the course has no such side".into(),
            Wrong::NumberZero => "pieces are numbered from 1".into(),
            Wrong::NumberTwice => "there are two pieces of this number".into(),
            Wrong::NumbersMissing(first, last) if first == last => {
                format!("piece {first} is missing")
            }
            Wrong::NumbersMissing(first, last) => format!("pieces {first} to {last} are missing"),
            Wrong::EndNotReached { tip, by } => format!(
                "strip {strip} ends {} short of the {} end of the course with its allowance",
                self.length(*by),
                tip.name()
            ),
            Wrong::Hole(by) => format!(
                "the two pieces leave {} of the course open",
                self.length(*by)
            ),
            Wrong::PieceCounts { port, starboard } => {
                format!(
                    "{} to port but {starboard} to starboard",
                    counted(*port, "piece")
                )
            }
            Wrong::EndsDiffer { tip, by } => format!(
                "its {} end lies {} from that of its mate on the other side",
                tip.name(),
                self.length(*by)
            ),
            Wrong::OtherMate { named, found } => format!(
                "the row names {} as its mate, but {} lies on the other side",
                named.as_deref().unwrap_or("no strip"),
                found.as_deref().unwrap_or("no strip")
            ),
            Wrong::OwnMate => format!("strip {strip} is its own mate on the other side"),
            Wrong::CutsDiffer { mate, by } => format!(
                "strip {strip} and its mate {mate} come from one board but are cut {} out of register",
                self.length(*by)
            ),
            Wrong::BowEndsDiffer(mate) => format!(
                "strip {strip} and its mate {mate} come from one board but point different ends to the bow"
            ),
            Wrong::NoLength => {
                format!("the piece of strip {strip} ends where it begins, or before")
            }
            Wrong::CutLength(by) => format!(
                "strip {strip} is cut {} than the place it fills",
                self.longer(*by)
            ),
            Wrong::OffStrip { end, by } => format!(
                "the cut lies {} beyond the {} end of strip {strip}",
                self.length(*by),
                end.spoken()
            ),
            Wrong::InEnd { end, trim, by } => format!(
                "the piece takes {} of the {} that are left at the {} end of strip {strip}",
                self.length(*by),
                self.length(*trim),
                end.spoken()
            ),
            Wrong::CutTwice { other, by } => format!(
                "{} of strip {strip} is used already in {other}",
                self.length(*by)
            ),
            Wrong::NoRoomForSaw { other, by } => format!(
                "the cut in strip {strip} is {} too near the one for {other} to leave room for the saw",
                self.length(*by)
            ),
            Wrong::Defect { from, to, by } => format!(
                "the piece reaches {} {} the {} in strip {strip}",
                self.length(*by),
                if from == to { "over" } else { "into" },
                self.defect(*from, *to)
            ),
            Wrong::NearDefect {
                from,
                to,
                clear,
                by,
            } => format!(
                "the piece comes {} too near the {} in strip {strip}; {} is to be kept clear",
                self.length(*by),
                self.defect(*from, *to),
                self.length(*clear)
            ),
            Wrong::Cull => {
                format!("strip {strip} is too narrow or too thin for this boat")
            }
            Wrong::Scarf(by) => format!("the overlap is {} than the scarf", self.longer(*by)),
            Wrong::InZone { name, from, to, by } => {
                let by = self.length(*by);
                match name {
                    Some(name) => {
                        format!("the scarf reaches {by} into the zone kept clear \"{name}\"")
                    }
                    None => format!(
                        "the scarf reaches {by} into the zone kept clear from {} to {}",
                        self.length(from.from_origin()),
                        self.length(to.from_origin())
                    ),
                }
            }
            Wrong::TooNear { other, clear, by } => format!(
                "it is {} too near {other}; {} is to be kept between them",
                self.length(*by),
                self.length(*clear)
            ),
            Wrong::TooShort { shortest, by } => format!(
                "the piece of strip {strip} is {} short of the shortest allowed, {}",
                self.length(*by),
                self.length(*shortest)
            ),
            Wrong::TooManyJoints { joints, most } => {
                format!("{}, where {most} at most may be", counted(*joints, "joint"))
            }
            Wrong::Reflected(edge) => format!(
                "strip {strip} can't lie like this: with this end to the bow and this face out, edge {} looks to the \
                next course",
                edge.name()
            ),
            Wrong::WrongEdge(edge) => format!(
                "strip {strip} has bead and cove the wrong way round: edge {} must look to the next course",
                edge.name()
            ),
            Wrong::WrongFace { mate, face } => format!(
                "strip {strip} must show its {} face to match its mate {mate} from the same board",
                face.name()
            ),
            Wrong::LaidMissing => {
                format!("strip {strip} is laid here already, but the plan has no such row")
            }
            Wrong::AcrossCut { at, by } => format!(
                "strip {strip} is cut at {} already, and the piece reaches {} over the cut",
                self.length(at.from_origin()),
                self.length(*by)
            ),
            Wrong::LaidChanged(what) => format!(
                "strip {strip} is laid here already, but the plan changes its {}",
                what.join(", ")
            ),
            Wrong::NotWanted { want, named } => {
                format!("strip {strip} lies where the want \"{want}\" asks for {named}")
            }
            Wrong::WantedAcross { want, side } => {
                format!(
                    "the want \"{want}\" asks for strip {strip} to {}",
                    side.name()
                )
            }
            Wrong::Kept(want) => {
                format!("strip {strip} is kept for the want \"{want}\" and may not lie here")
            }
        }
    }

    fn longer(&self, by: Length) -> String {
        match by > Length::ZERO {
            true => format!("{} longer", self.length(by)),
            false => format!("{} shorter", self.length(-by)),
        }
    }

    fn defect(&self, from: U, to: U) -> String {
        let place = |at: U| self.length(at.from_origin());
        match from == to {
            true => format!("break at {}", place(from)),
            false => format!("defect from {} to {}", place(from), place(to)),
        }
    }

    /// As a tape shows it; below a centimetre in full, so that a hair too much does not read as nothing.
    fn length(&self, length: Length) -> String {
        if length.abs() >= Length::from_nm(10_000_000) || length == Length::ZERO {
            return self.unit.shop(length);
        }
        // As many decimals as a file has, or all of them where those would be nothing.
        let value = length.nm() as f64 / self.unit.nm() as f64;
        let short = match self.unit {
            Unit::Mm => format!("{value:.3}"),
            Unit::Inch => format!("{value:.4}"),
        };
        let told = match short.contains(|c: char| ('1'..='9').contains(&c)) {
            true => short,
            false => self.unit.exact(length),
        };
        let told = told.trim_end_matches('0').trim_end_matches('.');
        format!("{told} {}", self.unit.name())
    }
}

impl Tip {
    const fn name(self) -> &'static str {
        match self {
            Tip::Bow => "bow",
            Tip::Stern => "stern",
        }
    }
}
