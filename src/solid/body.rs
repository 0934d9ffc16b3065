//! A ribbon with its thickness: the outside, the inside, and the rims between them, as triangles.

use super::edges::{cross, unit};
use super::ribbon::{Place, Ribbon};
use crate::lines::{Point, dot, sub};

/// How deep a rim begins under the outside. Unit: millimetre. Why not at once: neighbours touch there, and a picture
/// would have their rims peep through the seam.
const UNDER: f64 = 0.2;

/// A corner of triangles.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Vertex {
    /// Where. Unit: millimetre; aft, to starboard, up.
    pub at: Point,
    /// Which way the wood looks there, of length 1.
    pub normal: Point,
    /// How far along the strip, and how far across. Unit: millimetre from the marked end; 0 on edge A, 1 on edge B.
    pub on_strip: (f64, f64),
}

/// A piece as a body.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Body {
    /// Its corners.
    pub vertices: Vec<Vertex>,
    /// Triangles, seen from outside the wood counter-clockwise.
    pub triangles: Vec<[u32; 3]>,
}

impl Body {
    /// The wood inside a ribbon. Unit of the thickness: millimetre.
    pub fn of(ribbon: &Ribbon, thickness: f64) -> Body {
        let outside = &ribbon.lines;
        let inside: Vec<Vec<Place>> = outside
            .iter()
            .map(|line| line.iter().map(|place| sunk(place, thickness)).collect())
            .collect();
        let mut body = Body::default();
        let plain = |lines: &[Vec<Place>], sign: f64| -> Vec<Vec<Vertex>> {
            let vertex = |place: &Place| place.vertex(place.out.map(|part| sign * part));
            lines
                .iter()
                .map(|line| line.iter().map(vertex).collect())
                .collect()
        };
        body.sheet(&plain(outside, 1.0));
        body.sheet(&plain(&inside, -1.0));
        let outside: Vec<Vec<Place>> = outside
            .iter()
            .map(|line| line.iter().map(|place| sunk(place, UNDER)).collect())
            .collect();
        let (first, last) = (0, outside.len() - 1);
        for (edge, beside) in [(first, 1), (last, last - 1)] {
            body.sheet(&rim(&outside[edge], &inside[edge], &outside[beside]));
        }
        let stations = outside[0].len() - 1;
        for (end, beside) in [(0, 1), (stations, stations - 1)] {
            let across = |lines: &[Vec<Place>], at: usize| -> Vec<Place> {
                lines.iter().map(|line| line[at]).collect()
            };
            let (out, inner) = (across(&outside, end), across(&inside, end));
            body.sheet(&rim(&out, &inner, &across(&outside, beside)));
        }
        body
    }

    /// The skin alone between lines of one length, of places and of the way the skin looks there.
    pub(super) fn bare(lines: &[Vec<(Point, Point)>]) -> Body {
        let on_strip = (0.0, 0.0);
        let vertex = |(at, normal): &(Point, Point)| Vertex {
            at: *at,
            normal: *normal,
            on_strip,
        };
        let lines: Vec<Vec<Vertex>> = lines
            .iter()
            .map(|line| line.iter().map(vertex).collect())
            .collect();
        let mut body = Body::default();
        body.sheet(&lines);
        body
    }

    /// Adds the quarters between lines of one length. Each is turned as its corners look.
    fn sheet(&mut self, lines: &[Vec<Vertex>]) {
        let base = self.vertices.len();
        let long = lines[0].len();
        self.vertices.extend(lines.iter().flatten());
        let at = |line: usize, station: usize| base + line * long + station;
        for line in 0..lines.len() - 1 {
            for station in 0..long - 1 {
                let (a, b) = (at(line, station), at(line, station + 1));
                let (c, d) = (at(line + 1, station + 1), at(line + 1, station));
                self.triangle([a, b, c]);
                self.triangle([a, c, d]);
            }
        }
    }

    fn triangle(&mut self, [a, b, c]: [usize; 3]) {
        let at = |i: usize| self.vertices[i].at;
        let face = cross(sub(at(b), at(a)), sub(at(c), at(a)));
        let looks = [a, b, c].map(|i| dot(face, self.vertices[i].normal));
        let corners = if looks.iter().sum::<f64>() < 0.0 {
            [a, c, b]
        } else {
            [a, b, c]
        };
        self.triangles.push(corners.map(|i| i as u32));
    }
}

impl Place {
    fn vertex(&self, normal: Point) -> Vertex {
        Vertex {
            at: self.at,
            normal,
            on_strip: (self.along, self.across),
        }
    }
}

/// The same place on the inside.
fn sunk(place: &Place, thickness: f64) -> Place {
    Place {
        at: std::array::from_fn(|i| place.at[i] - thickness * place.out[i]),
        ..*place
    }
}

/// Between the outside and the inside, looking away from the line beside it.
fn rim(outside: &[Place], inside: &[Place], beside: &[Place]) -> Vec<Vec<Vertex>> {
    let away = |i: usize| {
        let straight = sub(outside[i].at, beside[i].at);
        // Square to the skin.
        let lean = dot(straight, outside[i].out);
        let level: Point = std::array::from_fn(|k| straight[k] - lean * outside[i].out[k]);
        unit(level)
    };
    // Where the piece has run out there is no way across: the nearest that is known will do.
    let known: Vec<Option<Point>> = (0..outside.len()).map(away).collect();
    let nearest = |i: usize| {
        let there = known.iter().enumerate().filter(|(_, way)| way.is_some());
        let nearest = there.min_by_key(|(k, _)| k.abs_diff(i));
        nearest.and_then(|(_, way)| *way).unwrap_or([0.0, 0.0, 1.0])
    };
    let normals: Vec<Point> = (0..outside.len())
        .map(|i| known[i].unwrap_or_else(|| nearest(i)))
        .collect();
    [outside, inside]
        .map(|line| {
            line.iter()
                .zip(&normals)
                .map(|(place, normal)| place.vertex(*normal))
                .collect()
        })
        .to_vec()
}
