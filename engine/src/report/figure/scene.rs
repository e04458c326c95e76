//! A picture as shapes whose places follow the numbers: what is drawn, and what redraws it when a number moves.
//!
//! A coordinate is a fixed number of the page plus factors times functions of numbers on the tape. So a picture needs no
//! layout when a reading moves: its scales stay as they were drawn, and each shape goes where its numbers are.

use crate::kernel;
use crate::outcome::{Amount, Piece};
use crate::tape::Slot;

/// A picture.
#[derive(Clone, Debug, Default)]
pub(super) struct Scene {
    /// Width and height, in the units that text of 12 is drawn in.
    pub(super) size: [f64; 2],
    /// Left, top, right and bottom of the part that moving shapes are kept in.
    pub(super) frame: [f64; 4],
    /// The shapes, those behind first.
    pub(super) shapes: Vec<Shape>,
    /// What it shows in words, for those who do not see it.
    pub(super) spoken: Vec<String>,
}

/// A shape with what it looks like.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    pub(super) form: Form,
    /// Classes of the style sheet.
    pub(super) look: &'static str,
    /// Whether it is kept within the frame.
    pub(super) framed: bool,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub(super) enum Form {
    /// A line through places, back to the first where it is closed.
    Line { places: Vec<Spot>, closed: bool },
    /// Between two lines that samples give, about the curve of this number.
    Band {
        along: Vec<BandEnd>,
        scale: Linear,
        curve: usize,
    },
    /// A rectangle between two corners.
    Box { corners: [Spot; 2] },
    /// A circle, or what a stretched one looks like.
    Ellipse { centre: Spot, radii: [Coordinate; 2] },
    /// A part of the same between two angles, counter-clockwise from the right.
    Arc {
        centre: Spot,
        radii: [f64; 2],
        angles: [Coordinate; 2],
    },
    /// A small sign of fixed size.
    Marker { at: Spot, sign: Sign },
    /// Text, line by line.
    Text {
        at: Spot,
        anchor: Anchor,
        lines: Vec<Vec<Piece>>,
    },
    /// A cell of a map.
    Cell { corners: [[f64; 2]; 2] },
    /// Where in a grid of places the margins are not negative, with straight edges between the places: from the left, from
    /// the bottom, row by row.
    Region {
        across: Vec<f64>,
        up: Vec<f64>,
        margins: Vec<Amount>,
    },
}

/// A place on the page: from the left, from the top.
pub(super) type Spot = [Coordinate; 2];

/// A place of a band: where it is across the page, the ends of the band there, and the curve's own place.
#[derive(Clone, Debug)]
pub(super) struct BandEnd {
    pub(super) across: Coordinate,
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) place: [Amount; 2],
}

/// Where a text stands beside its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// The signs, told apart without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    Disc,
    Square,
    Triangle,
    Diamond,
    Ring,
    Cross,
}

/// A fixed number and what numbers of the tape add to it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Coordinate {
    pub(super) fixed: f64,
    pub(super) terms: Vec<Term>,
}

/// A factor times a function of a number on the tape.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Term {
    pub(super) factor: f64,
    pub(super) function: Function,
    pub(super) slot: Slot,
    /// The number with the readings as they are, SI units.
    pub(super) now: f64,
}

/// What is done to a number before it is multiplied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Function {
    Same,
    Log10,
    Over,
    Cos,
    Sin,
}

/// From a number to a place along one direction of the page: `at + by × function(number)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Linear {
    pub(super) at: f64,
    pub(super) by: f64,
    pub(super) function: Function,
}

impl Function {
    pub(super) fn of(self, number: f64) -> f64 {
        match self {
            Self::Same => number,
            Self::Log10 if number > 0.0 => kernel::ln(number) / std::f64::consts::LN_10,
            Self::Log10 => f64::NAN,
            Self::Over => 1.0 / number,
            Self::Cos => kernel::cos(number),
            Self::Sin => kernel::sin(number),
        }
    }

    /// Its number in a scene.
    pub(super) const fn code(self) -> u8 {
        match self {
            Self::Same => 0,
            Self::Log10 => 1,
            Self::Over => 2,
            Self::Cos => 3,
            Self::Sin => 4,
        }
    }
}

impl Linear {
    /// The place of a number that does not move.
    pub(super) fn place(&self, si: f64) -> f64 {
        self.at + self.by * self.function.of(si)
    }

    /// The place of a number.
    pub(super) fn of(&self, amount: &Amount) -> Coordinate {
        match amount.slot {
            None => Coordinate::fixed(self.place(amount.si)),
            Some(slot) => Coordinate {
                fixed: self.at,
                terms: vec![Term {
                    factor: self.by,
                    function: self.function,
                    slot,
                    now: amount.si,
                }],
            },
        }
    }
}

impl Coordinate {
    pub(super) const fn fixed(fixed: f64) -> Self {
        Self {
            fixed,
            terms: Vec::new(),
        }
    }

    /// Where it is with the readings as they are.
    pub(super) fn now(&self) -> f64 {
        let terms = self.terms.iter().map(|term| term.factor * term.function.of(term.now));
        terms.fold(self.fixed, |sum, term| sum + term)
    }

    pub(super) fn moves(&self) -> bool {
        !self.terms.is_empty()
    }

    /// The same some way on.
    pub(super) fn plus(&self, by: f64) -> Self {
        Self {
            fixed: self.fixed + by,
            terms: self.terms.clone(),
        }
    }

    /// The sum of both.
    pub(super) fn also(&self, other: &Self) -> Self {
        self.and(1.0, other, 1.0)
    }

    /// The same less another.
    pub(super) fn minus(&self, other: &Self) -> Self {
        self.and(1.0, other, -1.0)
    }

    /// A part of the way from one to another.
    pub(super) fn between(&self, other: &Self, share: f64) -> Self {
        self.and(1.0 - share, other, share)
    }

    /// A multiple of it and a multiple of another.
    fn and(&self, own: f64, other: &Self, others: f64) -> Self {
        let scaled = |from: &Self, by: f64| {
            let terms = from.terms.clone().into_iter();
            terms.map(move |term| Term {
                factor: term.factor * by,
                ..term
            })
        };
        Self {
            fixed: self.fixed * own + other.fixed * others,
            terms: scaled(self, own).chain(scaled(other, others)).collect(),
        }
    }
}

/// Where a place is with the readings as they are.
pub(super) fn now(spot: &Spot) -> [f64; 2] {
    [spot[0].now(), spot[1].now()]
}

/// A place that does not move.
pub(super) fn still(x: f64, y: f64) -> Spot {
    [Coordinate::fixed(x), Coordinate::fixed(y)]
}

impl Scene {
    /// Adds a shape in front of the others.
    pub(super) fn add(&mut self, look: &'static str, framed: bool, form: Form) {
        self.shapes.push(Shape { form, look, framed });
    }

    /// Adds an open line through places.
    pub(super) fn line(&mut self, look: &'static str, framed: bool, places: Vec<Spot>) {
        self.add(look, framed, Form::Line { places, closed: false });
    }

    /// Adds text that begins at a place.
    pub(super) fn text(&mut self, look: &'static str, framed: bool, at: Spot, lines: Vec<Vec<Piece>>) {
        let anchor = Anchor::Start;
        self.add(look, framed, Form::Text { at, anchor, lines });
    }

    /// Adds a line that does not move.
    pub(super) fn rule(&mut self, look: &'static str, from: [f64; 2], to: [f64; 2]) {
        let places = vec![still(from[0], from[1]), still(to[0], to[1])];
        self.line(look, false, places);
    }

    /// Adds words that do not move.
    pub(super) fn words(&mut self, look: &'static str, at: [f64; 2], anchor: Anchor, words: &str) {
        let lines = vec![vec![Piece::Words(words.to_owned())]];
        let at = still(at[0], at[1]);
        self.add(look, false, Form::Text { at, anchor, lines });
    }
}

impl Form {
    /// Whether something of it follows the readings.
    pub(super) fn moves(&self) -> bool {
        let spot = |spot: &Spot| spot.iter().any(Coordinate::moves);
        match self {
            Self::Line { places, .. } => places.iter().any(spot),
            Self::Band { .. } => true,
            Self::Box { corners } => corners.iter().any(spot),
            Self::Ellipse { centre, radii } => spot(centre) || radii.iter().any(Coordinate::moves),
            Self::Arc { centre, angles, .. } => spot(centre) || angles.iter().any(Coordinate::moves),
            Self::Marker { at, .. } | Self::Text { at, .. } => spot(at),
            Self::Cell { .. } => false,
            Self::Region { margins, .. } => margins.iter().any(|margin| margin.slot.is_some()),
        }
    }
}
