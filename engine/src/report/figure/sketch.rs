//! A sketch laid out: to scale, as large as it fits, what goes up the page enlarged where the script says so.

use super::super::written;
use super::axis::Extent;
use super::measure::{LINE, is_empty, lines_of, widest, wrapped};
use super::placer::{Placer, around};
use super::scene::{Anchor, Form, Function, Linear, Scene, Sign, Spot, now, still};
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
    for dimension in &sketch.dimensions {
        layout.dimension(dimension);
    }
    for angle in &sketch.angles {
        layout.angle(angle);
    }
    for (label, place) in &sketch.points {
        layout.point(label, place);
    }
    layout.labels();
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
}

impl<'a> Layout<'a> {
    fn new(sketch: &'a Sketch, system: System, width: f64) -> Self {
        let narrow = width < 480.0;
        let (horizontal, vertical) = extents(sketch);
        let tallest = if narrow { 240.0 } else { 300.0 };
        let room = [width - 2.0 * MARGIN, tallest];
        let spans = [
            horizontal.high - horizontal.low,
            (vertical.high - vertical.low) * sketch.exaggerated,
        ];
        let fitting = |room: f64, span: f64| if span > 0.0 { room / span } else { f64::INFINITY };
        let scale = kernel::min(fitting(room[0], spans[0]), fitting(room[1], spans[1]));
        let scale = if scale.is_finite() { scale } else { 1000.0 };
        let height = kernel::max(spans[1] * scale, 60.0);
        let (left, top) = (
            width / 2.0 - spans[0] * scale / 2.0,
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
        self.placer.line([at[0] - size[0], at[1]], [at[0], at[1] - size[1]]);
        self.placer.line([at[0], at[1] - size[1]], [at[0] + size[0], at[1]]);
        if !is_empty(&circle.label) {
            self.waiting.push(Waiting {
                look: if circle.old { "label soft" } else { "label" },
                words: circle.label.clone(),
                beside: vec![centre.clone()],
                gap: 5.0 + kernel::min(size[0], size[1]),
            });
        }
        let look = if circle.old { "old" } else { "drawn" };
        self.scene.add(look, true, Form::Ellipse { centre, radii });
    }

    /// A line with arrows at both ends, its number at the middle.
    fn dimension(&mut self, dimension: &Dimension) {
        let ends = [self.spot(&dimension.from), self.spot(&dimension.to)];
        self.ink(&ends, false);
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
        self.scene
            .spoken
            .push(format!("{}.", written::phrase(&waiting.words, self.system)));
        let corners: Vec<[f64; 2]> = waiting
            .beside
            .iter()
            .flat_map(|spot| around(now(spot), size, waiting.gap))
            .collect();
        let each = corners.len() / waiting.beside.len().max(1);
        let Some(corner) = self.placer.place(size, &corners) else {
            self.below(waiting);
            return;
        };
        let nth = corners.iter().position(|known| *known == corner).unwrap_or(0) / each.max(1);
        let Some(spot) = waiting.beside.get(nth) else { return };
        let here = now(spot);
        let room = [corner[0], corner[1], corner[0] + size[0], corner[1] + size[1]];
        self.lead(spot, room, waiting.gap);
        let at = [
            spot[0].plus(corner[0] - here[0]),
            spot[1].plus(corner[1] + 11.5 - here[1]),
        ];
        let anchor = Anchor::Start;
        self.scene.add(waiting.look, true, Form::Text { at, anchor, lines });
    }

    /// A thin line from a place to its words, where they are not next to it.
    fn lead(&mut self, spot: &Spot, room: [f64; 4], gap: f64) {
        let [x, y] = now(spot);
        let nearest = [x.clamp(room[0], room[2]), y.clamp(room[1], room[3])];
        let away = kernel::hypot(nearest[0] - x, nearest[1] - y);
        if away > gap + 9.0 {
            let to = [spot[0].plus(nearest[0] - x), spot[1].plus(nearest[1] - y)];
            let places = vec![halfway(spot, &to, 0.2), to];
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
