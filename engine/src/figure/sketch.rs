//! Points and lines in space, seen from the side, from above or from behind.

use super::bounds::fits;
use crate::diagnostic::Refusal;
use crate::geometry::{Point, Vector};
use crate::outcome::{Amount, Phrase};
use crate::quantity::{self, Quantity};
use crate::tape::{self, Number};

/// A sketch: places in space as one of its views shows them.
#[derive(Clone, Debug)]
pub struct Sketch {
    /// What it is of.
    pub title: Phrase,
    /// From where it is seen.
    pub view: View,
    /// How many times larger what goes up the page is drawn than what goes across: true where 1.
    pub exaggerated: f64,
    /// Lines and outlines.
    pub paths: Vec<Path>,
    /// Single places.
    pub points: Vec<(Phrase, Place)>,
    /// Distances written beside arrows.
    pub dimensions: Vec<Dimension>,
    /// Angles.
    pub angles: Vec<Angle>,
    /// Circles.
    pub circles: Vec<Circle>,
}

/// From where a sketch is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From the car's left: rear to the right of the page, up is up.
    Side,
    /// From above: rear to the right of the page, the car's right side up the page.
    Plan,
    /// From behind: the car's right to the right of the page, up is up.
    Rear,
    /// What is no car: y to the right of the page, z up.
    Section,
}

/// A place as a view shows it: across the page, and up it.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Across, to the right.
    pub across: Amount,
    /// Up.
    pub up: Amount,
}

/// What a line looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// An edge that is there.
    Edge,
    /// A centre line: long and short strokes.
    Centre,
    /// How it was, or what stands behind: faint.
    Old,
    /// An arrow from its first place to its last.
    Arrow,
    /// A filled outline.
    Filled,
}

/// A line through places; an outline where it comes back to the first.
#[derive(Clone, Debug)]
pub struct Path {
    /// What it is; may be empty.
    pub label: Phrase,
    /// Its places.
    pub places: Vec<Place>,
    /// Whether it comes back to the first.
    pub closed: bool,
    /// What it looks like.
    pub look: Look,
}

/// A distance between two places, as the view shows it.
#[derive(Clone, Debug)]
pub struct Dimension {
    /// From here
    pub from: Place,
    /// to here.
    pub to: Place,
    /// The distance, true whatever the picture exaggerates.
    pub distance: Amount,
    /// Words in place of the number.
    pub label: Option<Phrase>,
}

/// An angle between two directions, as the view shows it.
#[derive(Clone, Debug)]
pub struct Angle {
    /// Where it opens.
    pub at: Place,
    /// The first direction, counted from across the page, counter-clockwise.
    pub from: Amount,
    /// The second, less than half a turn from the first.
    pub to: Amount,
    /// What lies between them, true whatever the picture exaggerates; never negative.
    pub between: Amount,
    /// Words in place of the number.
    pub label: Option<Phrase>,
}

/// A circle: a hole, a tube end on, how far a place may be off.
#[derive(Clone, Debug)]
pub struct Circle {
    /// What it is; may be empty.
    pub label: Phrase,
    /// Its centre.
    pub centre: Place,
    /// Its radius.
    pub radius: Amount,
    /// Whether it is faint.
    pub old: bool,
}

impl Sketch {
    /// A sketch with nothing in it.
    #[must_use]
    pub const fn new(title: Phrase, view: View) -> Self {
        Self {
            title,
            view,
            exaggerated: 1.0,
            paths: Vec::new(),
            points: Vec::new(),
            dimensions: Vec::new(),
            angles: Vec::new(),
            circles: Vec::new(),
        }
    }

    /// Adds a line through places, or an outline.
    ///
    /// # Errors
    /// Fewer than two places; too many numbers in all.
    pub fn path(&mut self, label: Phrase, points: &[Point], closed: bool, look: Look) -> Result<(), Refusal> {
        if points.len() < 2 {
            let message = format!("a line goes through at least two points, here are {}", points.len());
            return Err(Refusal::new("figure", message));
        }
        fits(self.count() + 2 * points.len())?;
        let places = points.iter().map(|point| self.view.place(*point)).collect();
        self.paths.push(Path {
            label,
            places,
            closed,
            look,
        });
        Ok(())
    }

    /// Marks a place.
    ///
    /// # Errors
    /// Too many numbers in all.
    pub fn point(&mut self, label: Phrase, point: Point) -> Result<(), Refusal> {
        fits(self.count() + 2)?;
        self.points.push((label, self.view.place(point)));
        Ok(())
    }

    /// Writes the distance of two places, as this view shows it.
    ///
    /// # Errors
    /// Too many numbers in all.
    pub fn dimension(&mut self, p: Point, q: Point, label: Option<Phrase>) -> Result<(), Refusal> {
        fits(self.count() + 5)?;
        let [px, py] = self.view.seen(p.metres());
        let [qx, qy] = self.view.seen(q.metres());
        let distance = tape::norm(&[qx - px, qy - py]);
        self.dimensions.push(Dimension {
            from: self.view.place(p),
            to: self.view.place(q),
            distance: length(distance),
            label,
        });
        Ok(())
    }

    /// Writes the angle between two directions where they meet, as this view shows it.
    ///
    /// # Errors
    /// Too many numbers in all; vectors with units of their own.
    pub fn angle(&mut self, a: Vector, b: Vector, at: Point, label: Option<Phrase>) -> Result<(), Refusal> {
        fits(self.count() + 5)?;
        let [ax, ay] = self.view.seen(a.components());
        let [bx, by] = self.view.seen(b.components());
        let first = tape::atan2(ay, ax);
        let turned = tape::atan2(ax * by - ay * bx, ax * bx + ay * by);
        self.angles.push(Angle {
            at: self.view.place(at),
            from: angle(first),
            to: angle(first + turned),
            between: angle(tape::abs(turned)),
            label,
        });
        Ok(())
    }

    /// Adds a circle.
    ///
    /// # Errors
    /// A radius that is no length; too many numbers in all.
    pub fn circle(&mut self, label: Phrase, centre: Point, radius: Quantity, old: bool) -> Result<(), Refusal> {
        fits(self.count() + 3)?;
        let radius = radius
            .here()?
            .expect(quantity::Dimension::LENGTH, "the radius of a circle")?;
        self.circles.push(Circle {
            label,
            centre: self.view.place(centre),
            radius: length(radius),
            old,
        });
        Ok(())
    }

    /// How many numbers it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        let paths: usize = self.paths.iter().map(|path| 2 * path.places.len()).sum();
        paths + 2 * self.points.len() + 5 * (self.dimensions.len() + self.angles.len()) + 3 * self.circles.len()
    }
}

impl View {
    /// The view of this name.
    #[must_use]
    pub fn of(name: &str) -> Option<Self> {
        match name {
            "side" => Some(Self::Side),
            "plan" => Some(Self::Plan),
            "rear" => Some(Self::Rear),
            "section" => Some(Self::Section),
            _ => None,
        }
    }

    /// What a view shows of three coordinates: across, and up.
    fn seen(self, [x, y, z]: [Number; 3]) -> [Number; 2] {
        match self {
            Self::Side => [x, z],
            Self::Plan => [x, y],
            Self::Rear | Self::Section => [y, z],
        }
    }

    fn place(self, point: Point) -> Place {
        let [across, up] = self.seen(point.metres());
        Place {
            across: length(across),
            up: length(up),
        }
    }
}

fn length(number: Number) -> Amount {
    Amount::of(Quantity::of(number, quantity::Dimension::LENGTH))
}

fn angle(number: Number) -> Amount {
    Amount::of(Quantity::of(number, quantity::Dimension::ANGLE))
}
