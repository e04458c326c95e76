//! A sketch laid out: to scale, as large as it fits, what goes up the page enlarged where the script says so.

use super::super::written;
use super::axis::Extent;
use super::measure::{LINE, is_empty, lines_of, widest, wrapped};
use super::placer::{Placer, around};
use super::scene::{Anchor, Form, Function, Linear, Scene, Sign, Spot, now, still};
use super::sketch_words::{lines, measures};
use crate::figure::{Angle, Dimension, Look, Path, Place, Sketch, View};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::text::{Digits, System, write_number};

/// Room around what is drawn, for words.
const MARGIN: f64 = 34.0;

/// The sketch on a page of a width.
pub(super) fn sketch(sketch: &Sketch, system: System, width: f64) -> Scene {
    let mut layout = Layout::new(sketch, system, width);
    for path in &sketch.paths {
        layout.path(path);
    }
    for circle in &sketch.circles {
        layout.circle(circle);
    }
    for (nth, dimension) in sketch.dimensions.iter().enumerate() {
        layout.dimension(nth, dimension);
    }
    for angle in &sketch.angles {
        layout.angle(angle);
    }
    for (label, place) in &sketch.points {
        layout.point(label, place);
    }
    layout.labels();
    let words = lines(sketch, system).into_iter().chain(measures(sketch, system));
    layout.scene.spoken.extend(words.map(|line| format!("{line}.")));
    layout.close();
    layout.scene
}

struct Layout<'a> {
    sketch: &'a Sketch,
    system: System,
    scene: Scene,
    across: Linear,
    up: Linear,
    placer: Placer,
    /// Words to be placed: their look, beside which place, at which distance.
    waiting: Vec<Waiting>,
}

struct Waiting {
    look: &'static str,
    words: Phrase,
    beside: Vec<Spot>,
    gap: f64,
    within: Within,
}

/// Where words may stand in what they name.
enum Within {
    Nowhere,
    /// In a dimension: its number in the sketch, and how far it goes across and down the page.
    Line(usize, [f64; 2]),
    /// In a circle of these radii.
    Circle([f64; 2]),
}

impl<'a> Layout<'a> {
    fn new(sketch: &'a Sketch, system: System, width: f64) -> Self {
        let narrow = width < 480.0;
        let (horizontal, vertical) = extents(sketch);
        let tallest = if narrow { 240.0 } else { 300.0 };
        let sides = sides(sketch, horizontal, system, width);
        let room = [width - sides[0] - sides[1], tallest];
        let spans = [
            horizontal.high - horizontal.low,
            (vertical.high - vertical.low) * sketch.exaggerated,
        ];
        let fitting = |room: f64, span: f64| if span > 0.0 { room / span } else { f64::INFINITY };
        let scale = kernel::min(fitting(room[0], spans[0]), fitting(room[1], spans[1]));
        let scale = if scale.is_finite() { scale } else { 1000.0 };
        let height = kernel::max(spans[1] * scale, 60.0);
        let (left, top) = (
            sides[0] + (room[0] - spans[0] * scale) / 2.0,
            MARGIN + height / 2.0 + spans[1] * scale / 2.0,
        );
        let by = [scale, -scale * sketch.exaggerated];
        let bottom = height + 2.0 * MARGIN;
        let frame = [0.0, 0.0, width, bottom];
        Self {
            sketch,
            system,
            scene: Scene {
                size: [width, bottom],
                frame,
                ..Scene::default()
            },
            across: Linear {
                at: left - by[0] * horizontal.low,
                by: by[0],
                function: Function::Same,
            },
            up: Linear {
                at: top - by[1] * vertical.low,
                by: by[1],
                function: Function::Same,
            },
            placer: Placer::new([2.0, 1.0, width - 2.0, bottom - 1.0]),
            waiting: Vec::new(),
        }
    }

    fn spot(&self, place: &Place) -> Spot {
        [self.across.of(&place.across), self.up.of(&place.up)]
    }

    fn path(&mut self, path: &Path) {
        let look = match path.look {
            Look::Edge => "drawn",
            Look::Centre => "centre",
            Look::Old => "old",
            Look::Arrow => "drawn arrow",
            Look::Filled => "filled",
        };
        let places: Vec<Spot> = path.places.iter().map(|place| self.spot(place)).collect();
        self.ink(&places, path.closed);
        if !is_empty(&path.label) {
            let soft = path.look == Look::Old;
            self.waiting.push(Waiting {
                look: if soft { "label soft" } else { "label" },
                words: path.label.clone(),
                beside: along(&places, path.look == Look::Arrow),
                gap: 4.0,
                within: Within::Nowhere,
            });
        }
        let closed = path.closed;
        self.scene.add(look, true, Form::Line { places, closed });
    }

    fn ink(&mut self, places: &[Spot], closed: bool) {
        let back = places.first().filter(|_| closed).map(now);
        let places = places.iter().map(now).chain(back);
        let places: Vec<[f64; 2]> = places.collect();
        for pair in places.windows(2) {
            self.placer.line(pair[0], pair[1]);
        }
    }

    fn circle(&mut self, circle: &crate::figure::Circle) {
        let centre = self.spot(&circle.centre);
        let radius = |scale: Linear| {
            let length = Linear {
                at: 0.0,
                by: scale.by.abs(),
                ..scale
            };
            length.of(&circle.radius)
        };
        let radii = [radius(self.across), radius(self.up)];
        let (at, size) = (now(&centre), [radii[0].now(), radii[1].now()]);
        self.ring(at, size);
        if !is_empty(&circle.label) {
            self.waiting.push(Waiting {
                look: if circle.old { "label soft" } else { "label" },
                words: circle.label.clone(),
                beside: vec![centre.clone()],
                gap: 5.0 + kernel::min(size[0], size[1]),
                within: Within::Circle(size),
            });
        }
        let look = if circle.old { "old" } else { "drawn" };
        self.scene.add(look, true, Form::Ellipse { centre, radii });
    }

    /// Notes the line of a circle.
    fn ring(&mut self, at: [f64; 2], size: [f64; 2]) {
        let place = |part: u8| {
            let turned = f64::from(part) / 24.0 * std::f64::consts::TAU;
            let (across, up) = (kernel::cos(turned), kernel::sin(turned));
            [at[0] + size[0] * across, at[1] - size[1] * up]
        };
        for part in 0..24 {
            self.placer.line(place(part), place(part + 1));
        }
        // What stands in a small circle seems to be its name.
        if size[0] < 45.0 {
            for way in 0..12 {
                self.placer.line(place(way), place(way + 12));
            }
        }
    }

    /// A line with arrows at both ends, its number at the middle.
    fn dimension(&mut self, nth: usize, dimension: &Dimension) {
        let ends = [self.spot(&dimension.from), self.spot(&dimension.to)];
        let [from, to] = [now(&ends[0]), now(&ends[1])];
        self.placer.line_of(from, to, Some(nth));
        let middle = halfway(&ends[0], &ends[1], 0.5);
        let words = dimension.label.clone().unwrap_or_else(|| number(&dimension.distance));
        self.waiting.push(Waiting {
            look: "label",
            words,
            beside: vec![
                middle,
                halfway(&ends[0], &ends[1], 0.3),
                halfway(&ends[0], &ends[1], 0.7),
            ],
            gap: 3.0,
            within: Within::Line(nth, [(to[0] - from[0]).abs(), (to[1] - from[1]).abs()]),
        });
        let [from, to] = ends;
        let places = vec![from, to];
        self.scene.line("measure both", true, places);
    }

    /// An arc as the view's stretching makes it, and thin lines along both sides.
    fn angle(&mut self, angle: &Angle) {
        let at = self.spot(&angle.at);
        // Of a small angle that is drawn larger, the arc stands further out, where it can be seen.
        let widest = 0.13 * self.scene.size[0];
        let across = if self.sketch.exaggerated > 3.0 {
            widest
        } else {
            kernel::min(widest, 40.0)
        };
        let radii = [across, across * self.sketch.exaggerated];
        let here = now(&at);
        let end = |direction: f64| {
            let x = here[0] + radii[0] * kernel::cos(direction);
            [x, here[1] - radii[1] * kernel::sin(direction)]
        };
        for direction in [angle.from.si, angle.to.si] {
            self.placer.line(here, end(direction));
        }
        let middle = end((angle.from.si + angle.to.si) / 2.0);
        self.waiting.push(Waiting {
            look: "label",
            words: angle.label.clone().unwrap_or_else(|| number(&angle.between)),
            beside: vec![[at[0].plus(middle[0] - here[0]), at[1].plus(middle[1] - here[1])]],
            gap: 4.0,
            within: Within::Nowhere,
        });
        for direction in [&angle.from, &angle.to] {
            let places = vec![at.clone(), reach(&at, direction, radii)];
            self.scene.line("side", true, places);
        }
        let turned = |direction: &Amount| {
            let function = Function::Same;
            Linear {
                at: 0.0,
                by: 1.0,
                function,
            }
            .of(direction)
        };
        let angles = [turned(&angle.from), turned(&angle.to)];
        let centre = at;
        self.scene.add("measure", true, Form::Arc { centre, radii, angles });
    }

    fn point(&mut self, label: &Phrase, place: &Place) {
        let at = self.spot(place);
        let [x, y] = now(&at);
        self.placer.take([x - 4.0, y - 4.0, x + 4.0, y + 4.0]);
        if !is_empty(label) {
            self.waiting.push(Waiting {
                look: "label",
                words: label.clone(),
                beside: vec![at.clone()],
                gap: 6.0,
                within: Within::Nowhere,
            });
        }
        self.scene.add("place", true, Form::Marker { at, sign: Sign::Disc });
    }

    /// Words beside what they name; a line leads to those that stand further off.
    fn labels(&mut self) {
        let mut waiting = std::mem::take(&mut self.waiting);
        // Numbers first: they cannot stand just anywhere.
        waiting.sort_by(|a, b| a.gap.total_cmp(&b.gap));
        for words in waiting {
            self.label(&words);
        }
    }

    fn label(&mut self, waiting: &Waiting) {
        let lines = wrapped(&waiting.words, 150.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let (rooms, own) = rooms(waiting, size);
        let corners: Vec<[f64; 2]> = rooms.iter().map(|(corner, _)| *corner).collect();
        let placed = self.placer.place_on(size, &corners, own);
        let Some((corner, spot)) = placed.and_then(|nth| rooms.get(nth)) else {
            self.below(waiting);
            return;
        };
        if own.is_some_and(|[nth, _]| placed == Some(nth)) {
            self.gap(spot, size);
        }
        let here = now(spot);
        let room = [corner[0], corner[1], corner[0] + size[0], corner[1] + size[1]];
        let rim = match waiting.within {
            Within::Circle(radii) => kernel::min(radii[0], radii[1]),
            Within::Nowhere | Within::Line(..) => 0.0,
        };
        self.lead(spot, room, waiting.gap, rim);
        let at = [
            spot[0].plus(corner[0] - here[0]),
            spot[1].plus(corner[1] + 11.5 - here[1]),
        ];
        let anchor = Anchor::Start;
        self.scene.add(waiting.look, true, Form::Text { at, anchor, lines });
    }

    /// Paper in the middle of a dimension line, for its number.
    fn gap(&mut self, spot: &Spot, size: [f64; 2]) {
        let half = [size[0] / 2.0 + 1.0, size[1] / 2.0];
        let corners = [-1.0, 1.0].map(|side| [spot[0].plus(side * half[0]), spot[1].plus(side * half[1])]);
        self.scene.add("gap", true, Form::Box { corners });
    }

    /// A thin line from a place, or from the rim of a circle about it, to its words, where they are not next to it.
    fn lead(&mut self, spot: &Spot, room: [f64; 4], gap: f64, rim: f64) {
        let [x, y] = now(spot);
        let nearest = [x.clamp(room[0], room[2]), y.clamp(room[1], room[3])];
        let away = kernel::hypot(nearest[0] - x, nearest[1] - y);
        let inside = away < rim;
        if away > gap + 9.0 && !inside {
            let to = [spot[0].plus(nearest[0] - x), spot[1].plus(nearest[1] - y)];
            let from = if rim > 0.0 { rim / away } else { 0.2 };
            let places = vec![halfway(spot, &to, from), to];
            self.scene.line("lead", true, places);
        }
    }

    /// Words that find no room stand below, with a letter.
    fn below(&mut self, waiting: &Waiting) {
        let lines = wrapped(&waiting.words, self.scene.size[0], self.system);
        let at = still(0.0, self.scene.size[1] + 12.0);
        self.scene.size[1] += LINE * lines_of(&lines);
        let anchor = Anchor::Start;
        self.scene.add(waiting.look, false, Form::Text { at, anchor, lines });
    }

    /// From where it is seen, and by how much it exaggerates.
    fn close(&mut self) {
        let seen = match self.sketch.view {
            View::Side => "Seen from the left: rear to the right.",
            View::Plan => "Seen from above: rear to the right, the car's right side upward.",
            View::Rear => "Seen from behind: the car's right to the right.",
            View::Section => "",
        };
        let times = write_number(self.sketch.exaggerated, Digits::Significant(3));
        let what = if self.sketch.view == View::Plan {
            "Sideways"
        } else {
            "Heights"
        };
        let stretched = match self.sketch.exaggerated {
            1.0 => String::new(),
            _ => format!("{what} drawn {times} times as large; the numbers are true."),
        };
        let said = format!("{seen} {stretched}");
        if said.trim().is_empty() {
            return;
        }
        let words = Phrase::words(said.trim());
        self.scene.spoken.push(written::phrase(&words, self.system));
        let lines = wrapped(&words, self.scene.size[0], self.system);
        let at = still(0.0, self.scene.size[1] + 12.0);
        self.scene.size[1] += LINE * lines_of(&lines) + 4.0;
        self.scene.text("soft", false, at, lines);
    }
}

/// The left and upper corner of room for words, and the place that it is beside.
type Room<'a> = ([f64; 2], &'a Spot);

/// Corners of rooms for words, each with the place that it is beside, the best first; and which of them is in a dimension
/// line, with the line's number.
fn rooms(waiting: &Waiting, size: [f64; 2]) -> (Vec<Room<'_>>, Option<[usize; 2]>) {
    let mut rooms: Vec<Room<'_>> = Vec::new();
    for spot in &waiting.beside {
        let around = around(now(spot), size, waiting.gap);
        rooms.extend(around.into_iter().map(|corner| (corner, spot)));
    }
    let Some(spot) = waiting.beside.first() else {
        return (rooms, None);
    };
    let nearest = rooms.len().min(8);
    let within = within(&waiting.within, now(spot), size);
    let own = match waiting.within {
        Within::Line(nth, _) if !within.is_empty() => Some([nearest, nth]),
        _ => None,
    };
    rooms.splice(nearest..nearest, within.into_iter().map(|corner| (corner, spot)));
    (rooms, own)
}

/// Corners of rooms of a size in what words name: in a dimension line that is long enough to go on at both ends, at the
/// top and at the bottom of a circle that is large enough.
fn within(within: &Within, [x, y]: [f64; 2], size: [f64; 2]) -> Vec<[f64; 2]> {
    let left = x - size[0] / 2.0;
    match within {
        Within::Line(_, [across, down]) => {
            let long_enough = if down > across {
                *down > size[1] + 24.0
            } else {
                *across > size[0] + 32.0
            };
            long_enough.then_some([left, y - size[1] / 2.0]).into_iter().collect()
        }
        Within::Circle([across, up]) => {
            let radius = kernel::min(*across, *up) - 3.0;
            // From the middle to a row whose ends are just within the circle.
            let off = kernel::sqrt(kernel::max(radius * radius - size[0] * size[0] / 4.0, 0.0));
            let wide_enough = off > size[1] + 8.0;
            let corners = [[left, y - off], [left, y + off - size[1]]];
            corners.into_iter().filter(|_| wide_enough).collect()
        }
        Within::Nowhere => Vec::new(),
    }
}

/// A little further from a place than an arc about it, in a direction.
fn reach(at: &Spot, direction: &Amount, radii: [f64; 2]) -> Spot {
    let part = |by: f64, function| Linear { at: 0.0, by, function }.of(direction);
    let across = part(1.12 * radii[0], Function::Cos);
    let up = part(-1.12 * radii[1], Function::Sin);
    [at[0].also(&across), at[1].also(&up)]
}

fn number(amount: &Amount) -> Phrase {
    Phrase {
        pieces: vec![Piece::Amount(amount.clone())],
    }
}

fn halfway(from: &Spot, to: &Spot, share: f64) -> Spot {
    [from[0].between(&to[0], share), from[1].between(&to[1], share)]
}

/// Places along a line for its label: its end where it is an arrow, else the middle of its longest stretch first.
fn along(places: &[Spot], arrow: bool) -> Vec<Spot> {
    let length = |pair: &[Spot]| {
        let (from, to) = (now(&pair[0]), now(&pair[1]));
        kernel::hypot(to[0] - from[0], to[1] - from[1])
    };
    if arrow {
        return places.iter().rev().cloned().collect();
    }
    let longest = places.windows(2).max_by(|a, b| length(a).total_cmp(&length(b)));
    let Some([from, to]) = longest else {
        return places.to_vec();
    };
    [0.5, 0.25, 0.75, 0.05, 0.95]
        .map(|share| halfway(from, to, share))
        .to_vec()
}

/// Room on the left and on the right: more where an upright dimension stands there, beside which its number goes.
fn sides(sketch: &Sketch, across: Extent, system: System, page: f64) -> [f64; 2] {
    let mut sides = [MARGIN; 2];
    let near = 0.03 * (across.high - across.low);
    for dimension in &sketch.dimensions {
        let [from, to] = [dimension.from.across.si, dimension.to.across.si];
        let words = dimension.label.clone().unwrap_or_else(|| number(&dimension.distance));
        let room = widest(&wrapped(&words, 150.0, system), system) + 10.0;
        let stands = |at: f64| (from - at).abs() <= near && (to - at).abs() <= near;
        for (side, at) in sides.iter_mut().zip([across.low, across.high]) {
            if stands(at) {
                *side = kernel::max(*side, kernel::min(room, 0.2 * page));
            }
        }
    }
    sides
}

/// How far what is drawn goes across and up.
fn extents(sketch: &Sketch) -> (Extent, Extent) {
    let paths = sketch.paths.iter().flat_map(|path| &path.places);
    let points = sketch.points.iter().map(|(_, place)| place);
    let ends = sketch
        .dimensions
        .iter()
        .flat_map(|dimension| [&dimension.from, &dimension.to]);
    let corners = sketch.angles.iter().map(|angle| &angle.at);
    let places: Vec<&Place> = paths.chain(points).chain(ends).chain(corners).collect();
    let circles = |which: fn(&Place) -> f64| {
        let ends = sketch.circles.iter();
        ends.flat_map(move |circle| [-1.0, 1.0].map(|side| which(&circle.centre) + side * circle.radius.si))
    };
    let of = |which: fn(&Place) -> f64| {
        let numbers = places.iter().map(move |place| which(place));
        Extent::of(numbers.chain(circles(which)), false)
    };
    (of(|place| place.across.si), of(|place| place.up.si))
}
