//! A job made by hand, in a few lines. Bare numbers are millimetres.
//!
//! ```ignore
//! let job = boat().panel("topside", Toward::Keel).courses(3, 0.0, 4000.0).board("oak", 8, 4200.0, 5).build();
//! ```

use twinstrake::hull::{
    Course, CourseId, CourseName, Crossing, Drift, End, Form, FormId, Hull, Kind, LayOrder, Panel,
    PanelId, Shade, Show, Side, Stretch, Toward, Zone,
};
use twinstrake::invented::rules;
use twinstrake::job::Job;
use twinstrake::plan::{Allow, Edge, Edges, Joints, Rules, Want, Weights};
use twinstrake::stock::{BoardId, Defect, Origin, Stock, Strip, StripId};
use twinstrake::units::{Colour, Length, S, U, Unit, X};

/// A strip before the boards have their numbers.
struct Slice {
    board: Option<String>,
    seq: u32,
    sister: Option<String>,
    strip: Strip,
}

/// Builds a job; every method hands the builder on.
pub struct Builder {
    hull: Hull,
    slices: Vec<Slice>,
    rules: Rules,
    weights: Weights,
    wants: Vec<Want>,
    unit: Unit,
}

pub fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

/// A boat without panels and a rack without strips; rules of a common small boat, weights of the model.
pub fn boat() -> Builder {
    Builder {
        hull: Hull::default(),
        slices: Vec::new(),
        rules: rules(),
        weights: Weights::default(),
        wants: Vec::new(),
        unit: Unit::Mm,
    }
}

impl Builder {
    /// A new panel; the courses and zones that follow are in it.
    pub fn panel(mut self, name: &str, toward: Toward) -> Builder {
        self.hull.panels.push(Panel {
            name: name.into(),
            toward,
            look: 1.0,
            lay: LayOrder::Alternate,
            drift: None,
        });
        self
    }

    /// How much the panel's looks count.
    pub fn look(mut self, look: f64) -> Builder {
        self.hull.panels.last_mut().unwrap().look = look;
        self
    }

    /// Which way the panel's colour is to go.
    pub fn drift(mut self, shade: Shade, against: f64) -> Builder {
        self.hull.panels.last_mut().unwrap().drift = Some(Drift { shade, against });
        self
    }

    /// A want for courses of this panel, changed from one that names nothing.
    pub fn want(
        mut self,
        name: &str,
        courses: (u32, u32),
        change: impl FnOnce(&mut Want),
    ) -> Builder {
        let mut want = Want {
            name: name.into(),
            panel: self.this_panel(),
            courses: Some(courses),
            wood: None,
            boards: Vec::new(),
            strips: Vec::new(),
            keep: false,
            accent: None,
            port: None,
        };
        change(&mut want);
        self.wants.push(want);
        self
    }

    /// In which order the panel's sides are laid.
    pub fn lay(mut self, lay: LayOrder) -> Builder {
        self.hull.panels.last_mut().unwrap().lay = lay;
        self
    }

    /// The next course of the panel: mirrored, fitted ends, as long along the skin as along the boat.
    pub fn course(mut self, from: f64, to: f64) -> Builder {
        let panel = self.this_panel();
        let before = self.hull.courses.iter().filter(|c| c.panel == panel);
        let number = before.count() as u32 + 1;
        self.hull.courses.push(Course {
            panel,
            number,
            kind: Kind::Mirrored,
            from: X::from_mm(from),
            to: X::from_mm(to),
            length: mm(to - from),
            bow_end: End::Fitted,
            stern_end: End::Fitted,
            stretch: Stretch::Whole,
            crossings: Vec::new(),
        });
        self
    }

    /// Several courses alike.
    pub fn courses(self, many: usize, from: f64, to: f64) -> Builder {
        (0..many).fold(self, |boat, _| boat.course(from, to))
    }

    /// The next course of the panel, a centre course.
    pub fn centre(self, from: f64, to: f64) -> Builder {
        let mut boat = self.course(from, to);
        boat.hull.courses.last_mut().unwrap().kind = Kind::Centre;
        boat
    }

    /// The last course's name: `2b` for the second stretch of the second band.
    pub fn called(mut self, name: &str) -> Builder {
        let name: CourseName = name.parse().unwrap();
        let course = self.hull.courses.last_mut().unwrap();
        (course.number, course.stretch) = (name.number, name.stretch);
        self
    }

    /// A form, and where the last course crosses it along its skin.
    pub fn crosses(mut self, name: &str, x: f64, s: f64) -> Builder {
        let form = match self.hull.forms.iter().position(|form| form.name == name) {
            Some(place) => place,
            None => {
                self.hull.forms.push(Form {
                    name: name.into(),
                    at: X::from_mm(x),
                });
                self.hull.forms.len() - 1
            }
        };
        let course = self.hull.courses.last_mut().unwrap();
        course.crossings.push(Crossing {
            form: FormId(form),
            at: S::from_mm(s),
            width: mm(19.0),
            bevel: None,
        });
        self
    }

    /// The last course's length along the skin.
    pub fn skin(mut self, length: f64) -> Builder {
        self.hull.courses.last_mut().unwrap().length = mm(length);
        self
    }

    /// The last course's ends.
    pub fn ends(mut self, bow: End, stern: End) -> Builder {
        let course = self.hull.courses.last_mut().unwrap();
        (course.bow_end, course.stern_end) = (bow, stern);
        self
    }

    /// A zone of the panel that is kept clear, over all its courses.
    pub fn keep_clear(self, name: &str, from: f64, to: f64) -> Builder {
        self.keep_clear_on(name, None, from, to)
    }

    /// A zone of the panel that is kept clear, over some courses.
    pub fn keep_clear_on(
        mut self,
        name: &str,
        courses: Option<(u32, u32)>,
        from: f64,
        to: f64,
    ) -> Builder {
        let zone = self.zone(name, courses, from, to);
        self.hull.keep_clear.push(zone);
        self
    }

    /// A zone of the panel where looks count `times` as much, over all its courses.
    pub fn show(self, from: f64, to: f64, times: f64) -> Builder {
        self.show_on(None, from, to, times)
    }

    /// The same over some courses.
    pub fn show_on(
        mut self,
        courses: Option<(u32, u32)>,
        from: f64,
        to: f64,
        times: f64,
    ) -> Builder {
        let zone = self.zone("", courses, from, to);
        self.hull.show.push(Show { zone, times });
        self
    }

    /// A whole board: strips `name-01`, `name-02` … of one length, all of one shade (1 darkest to 9 lightest).
    pub fn board(self, name: &str, strips: u32, length: f64, shade: u8) -> Builder {
        (1..=strips).fold(self, |boat, seq| {
            let strip = format!("{name}-{seq:02}");
            boat.strip(&strip, name, seq, length, Colour::shade(shade))
        })
    }

    /// One strip of a board.
    pub fn strip(
        mut self,
        name: &str,
        board: &str,
        seq: u32,
        length: f64,
        colour: Colour,
    ) -> Builder {
        self.slices.push(Slice {
            board: Some(board.into()),
            seq,
            sister: None,
            strip: Strip::plain(name, None, mm(length), colour),
        });
        self
    }

    /// One strip of no board.
    pub fn stray(self, name: &str, length: f64, colour: Colour) -> Builder {
        let mut boat = self.strip(name, "", 0, length, colour);
        boat.slices.last_mut().unwrap().board = None;
        boat
    }

    /// A defect in the strip last named; a break where both places are the same.
    pub fn defect(mut self, from: f64, to: f64) -> Builder {
        let defects = &mut self.slices.last_mut().unwrap().strip.defects;
        defects.push(Defect {
            from: U::from_mm(from),
            to: U::from_mm(to),
        });
        defects.sort_by_key(|defect| defect.from);
        self
    }

    /// The strip last named is too narrow.
    pub fn cull(mut self) -> Builder {
        let strip = &mut self.slices.last_mut().unwrap().strip;
        strip.cull = true;
        strip.width = Some(self.rules.width - mm(1.0));
        self
    }

    /// The kind of wood of the last strip.
    pub fn wood(mut self, wood: &str) -> Builder {
        self.slices.last_mut().unwrap().strip.wood = wood.into();
        self
    }

    /// Two strips that name each other as sisters.
    pub fn sisters(mut self, one: &str, other: &str) -> Builder {
        for slice in &mut self.slices {
            if slice.strip.name == one {
                slice.sister = Some(other.into());
            } else if slice.strip.name == other {
                slice.sister = Some(one.into());
            }
        }
        self
    }

    /// Bead-and-cove edges, this one to the next course.
    pub fn bead_and_cove(self, next_edge: Edge) -> Builder {
        self.rules(|rules| rules.edges = Edges::BeadAndCove { next_edge })
    }

    /// Other rules.
    pub fn rules(mut self, change: impl FnOnce(&mut Rules)) -> Builder {
        change(&mut self.rules);
        self
    }

    /// Other weights.
    pub fn weights(mut self, change: impl FnOnce(&mut Weights)) -> Builder {
        change(&mut self.weights);
        self
    }

    /// Another unit to print lengths in.
    pub fn unit(mut self, unit: Unit) -> Builder {
        self.unit = unit;
        self
    }

    /// The job: boards and strips in the order of their names, as the reader makes it.
    pub fn build(mut self) -> Job {
        self.slices.sort_by(|a, b| a.strip.name.cmp(&b.strip.name));
        let mut boards: Vec<String> = self.slices.iter().filter_map(|s| s.board.clone()).collect();
        boards.sort();
        boards.dedup();
        let names: Vec<String> = self.slices.iter().map(|s| s.strip.name.clone()).collect();
        let place = |all: &[String], name: &String| all.iter().position(|n| n == name).unwrap();
        let strips = self
            .slices
            .into_iter()
            .map(|slice| Strip {
                origin: slice.board.map(|board| Origin {
                    board: BoardId(place(&boards, &board)),
                    seq: slice.seq,
                }),
                sister: slice.sister.map(|sister| StripId(place(&names, &sister))),
                ..slice.strip
            })
            .collect();
        Job {
            name: "a boat for a test".into(),
            unit: self.unit,
            hull: self.hull,
            stock: Stock { boards, strips },
            rules: self.rules,
            weights: self.weights,
            wants: self.wants,
            laid: Vec::new(),
            earlier: None,
        }
    }

    fn this_panel(&self) -> PanelId {
        PanelId(self.hull.panels.len().checked_sub(1).unwrap())
    }

    fn zone(&self, name: &str, courses: Option<(u32, u32)>, from: f64, to: f64) -> Zone {
        Zone {
            name: (!name.is_empty()).then(|| name.into()),
            panel: self.this_panel(),
            courses,
            from: X::from_mm(from),
            to: X::from_mm(to),
        }
    }
}
