//! A scene as SVG.

use super::region::region;
use super::scene::{Anchor, Coordinate, Form, Scene, Shape, Sign, Spot, now};
use crate::kernel;
use crate::outcome::{Amount, Piece};
use maud::{Markup, html};

/// How a number is written in a picture: its amount and its words to what stands there.
pub type WriteNumber<'a> = &'a mut dyn FnMut(&Amount, String) -> Markup;

/// How far a shape may stand beyond the frame.
const EDGE: f64 = 5.0;

/// The picture; `name` is the picture's own on its page, a word of letters, digits and hyphens.
pub(super) fn svg(
    scene: &Scene,
    name: &str,
    title: &str,
    words: &dyn Fn(&Amount) -> String,
    write: WriteNumber<'_>,
) -> Markup {
    let [width, height] = scene.size;
    let described = format!("{name}-title {name}-about");
    let frame = scene.frame;
    // Half a sign may stand beyond the edge.
    let clip = [frame[0] - EDGE, frame[1] - EDGE, frame[2] + EDGE, frame[3] + EDGE];
    let mut moving = 0;
    let mut drawn = Vec::new();
    for shape in &scene.shapes {
        let number = shape.form.moves().then(|| {
            moving += 1;
            moving - 1
        });
        drawn.push((shape.framed, drawn_shape(shape, number, name, words, write)));
    }
    html! {
        svg xmlns="http://www.w3.org/2000/svg" class="figure" data-name=(name) role="img" aria-labelledby=(described)
            viewBox=(format!("0 0 {} {}", short(width), short(height))) width=(short(width)) height=(short(height)) {
            title id=(format!("{name}-title")) { (title) }
            desc id=(format!("{name}-about")) { (scene.spoken.join(" ")) }
            defs {
                clipPath id=(format!("{name}-frame")) {
                    rect x=(short(clip[0])) y=(short(clip[1]))
                        width=(short(kernel::max(clip[2] - clip[0], 0.0)))
                        height=(short(kernel::max(clip[3] - clip[1], 0.0))) {}
                }
                @if scene.shapes.iter().any(has_head) {
                    marker id=(format!("{name}-head")) viewBox="0 0 10 10" refX="9" refY="5" markerWidth="9" markerHeight="9"
                        markerUnits="userSpaceOnUse" orient="auto-start-reverse" {
                        path class="head" d="M0 1.5L10 5L0 8.5Z" {}
                    }
                }
                @for (pattern, turned, stripe) in PATTERNS {
                    @if scene.shapes.iter().any(|shape| filling(shape.look) == Some(pattern)) {
                        pattern id=(format!("{name}-{pattern}")) width="6" height="6" patternUnits="userSpaceOnUse"
                            patternTransform=[(turned != 0).then(|| format!("rotate({turned})"))] {
                            rect class="ground" width="6" height="6" {}
                            @if stripe == "0" { circle class="ink" cx="3" cy="3" r="1.2" {} }
                            @else { rect class="ink" width=(stripe) height="6" {} }
                        }
                    }
                }
            }
            @for together in drawn.chunk_by(|a, b| a.0 == b.0) {
                @let framed = together.iter().any(|(framed, _)| *framed);
                g clip-path=[framed.then(|| format!("url(#{name}-frame)"))] {
                    @for (_, shape) in together { (shape) }
                }
            }
            text class="beyond" x=(short(frame[0] + 4.0)) y=(short(frame[1] + 12.0)) hidden="hidden" { "beyond the edge of the picture" }
        }
    }
}

fn drawn_shape(
    shape: &Shape,
    number: Option<usize>,
    name: &str,
    words: &dyn Fn(&Amount) -> String,
    write: WriteNumber<'_>,
) -> Markup {
    let look = shape.look;
    let url = |end: &str| format!("url(#{name}-{end})");
    match &shape.form {
        Form::Line { places, closed } => {
            let ends = look.split(' ').any(|class| class == "both");
            let arrow = ends || look.split(' ').any(|class| class == "arrow");
            let places: Vec<[f64; 2]> = places.iter().map(now).collect();
            html! {
                path class=(look) data-e=[number] d=(path(&places, *closed))
                    marker-end=[arrow.then(|| url("head"))] marker-start=[ends.then(|| url("head"))] {}
            }
        }
        Form::Band { along, .. } => {
            let upper = along.iter().map(|end| [end.across.now(), end.high]);
            let lower = along.iter().rev().map(|end| [end.across.now(), end.low]);
            let places: Vec<[f64; 2]> = upper.chain(lower).collect();
            html! { path class=(look) data-e=[number] d=(path(&places, true)) {} }
        }
        Form::Box { corners } => {
            let [from, to] = [now(&corners[0]), now(&corners[1])];
            let (left, top) = (kernel::min(from[0], to[0]), kernel::min(from[1], to[1]));
            let fill = filling(look).map(url);
            html! {
                rect class=(look) data-e=[number] x=(short(left)) y=(short(top)) width=(short((to[0] - from[0]).abs()))
                    height=(short((to[1] - from[1]).abs())) fill=[fill] {}
            }
        }
        Form::Ellipse { centre, radii } => {
            let [x, y] = now(centre);
            html! {
                ellipse class=(look) data-e=[number] cx=(short(x)) cy=(short(y)) rx=(short(radii[0].now().abs()))
                    ry=(short(radii[1].now().abs())) {}
            }
        }
        Form::Arc { centre, radii, angles } => {
            html! { path class=(look) data-e=[number] d=(arc(now(centre), *radii, angles)) {} }
        }
        Form::Marker { at, sign } => {
            html! { path class=(format!("{look} {}", kind(*sign))) data-e=[number] transform=(moved(at)) d=(outline(*sign)) {} }
        }
        Form::Text { at, anchor, lines } => html! {
            text class=(look) data-e=[number] transform=(moved(at)) text-anchor=(anchor_word(*anchor)) {
                @for (nth, line) in lines.iter().enumerate() {
                    @if lines.len() == 1 { (pieces(line, words, write)) } @else {
                        tspan x="0" dy=(if nth == 0 { "0" } else { "15" }) { (pieces(line, words, write)) }
                    }
                }
            }
        },
        Form::Region { across, up, margins } => {
            let margins: Vec<f64> = margins.iter().map(|margin| margin.si).collect();
            html! { path class=(look) data-e=[number] d=(region(across, up, &margins)) {} }
        }
        Form::Cell { corners } => {
            let [from, to] = corners;
            html! {
                rect class=(look) x=(short(from[0])) y=(short(from[1])) width=(short(to[0] - from[0]))
                    height=(short(to[1] - from[1])) fill=[filling(look).map(url)] {}
            }
        }
    }
}

/// The patterns: by how much each is turned, and how wide its stripes are; the one of none has dots.
const PATTERNS: [(&str, i32, &str); 5] = [
    ("slant", 45, "1.6"),
    ("dots", 0, "0"),
    ("cross", -45, "3"),
    ("level", 90, "2"),
    ("post", 0, "2"),
];

/// The pattern that a look is filled with.
fn filling(look: &str) -> Option<&'static str> {
    look.split(' ').find_map(|class| {
        let class = match class {
            "fails" => "slant",
            "unsure" => "dots",
            class => class,
        };
        let known = PATTERNS.iter().find(|(pattern, ..)| *pattern == class);
        known.map(|(pattern, ..)| *pattern)
    })
}

/// Whether a line ends in an arrow.
fn has_head(shape: &Shape) -> bool {
    shape.look.split(' ').any(|class| matches!(class, "arrow" | "both"))
}

fn pieces(line: &[Piece], words: &dyn Fn(&Amount) -> String, write: WriteNumber<'_>) -> Markup {
    html! {
        @for piece in line {
            @match piece {
                Piece::Words(words) => (words),
                Piece::Amount(amount) => (write(amount, words(amount))),
            }
        }
    }
}

fn moved(at: &Spot) -> String {
    let [x, y] = now(at);
    format!("translate({} {})", short(x), short(y))
}

const fn anchor_word(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

/// A line through places; one that is not on the page (of a logarithm, say) breaks it.
fn path(places: &[[f64; 2]], closed: bool) -> String {
    let mut d = String::new();
    let mut up = true;
    for [x, y] in places {
        if !(x.is_finite() && y.is_finite()) {
            up = true;
            continue;
        }
        d.push_str(&format!("{}{} {}", if up { 'M' } else { 'L' }, short(*x), short(*y)));
        up = false;
    }
    if closed && !d.is_empty() {
        d.push('Z');
    }
    d
}

/// A part of an ellipse between two angles, counter-clockwise from the right; upward is less on a page.
fn arc(centre: [f64; 2], radii: [f64; 2], angles: &[Coordinate; 2]) -> String {
    let [from, to] = [angles[0].now(), angles[1].now()];
    let end = |angle: f64| {
        let (x, y) = (
            centre[0] + radii[0] * kernel::cos(angle),
            centre[1] - radii[1] * kernel::sin(angle),
        );
        format!("{} {}", short(x), short(y))
    };
    let large = u8::from((to - from).abs() > std::f64::consts::PI);
    let sweep = u8::from(to < from);
    let [rx, ry] = radii.map(short);
    format!("M{}A{rx} {ry} 0 {large} {sweep} {}", end(from), end(to))
}

const fn kind(sign: Sign) -> &'static str {
    match sign {
        Sign::Disc | Sign::Square | Sign::Triangle | Sign::Diamond => "full",
        Sign::Ring | Sign::Cross => "open",
    }
}

const fn outline(sign: Sign) -> &'static str {
    match sign {
        Sign::Disc | Sign::Ring => "M3.5 0A3.5 3.5 0 1 1 -3.5 0A3.5 3.5 0 1 1 3.5 0Z",
        Sign::Square => "M-3.2 -3.2H3.2V3.2H-3.2Z",
        Sign::Triangle => "M0 -4.2L4 3H-4Z",
        Sign::Diamond => "M0 -4.8L4.8 0L0 4.8L-4.8 0Z",
        Sign::Cross => "M-3.4 -3.4L3.4 3.4M-3.4 3.4L3.4 -3.4",
    }
}

/// A number of the page: a tenth is finer than any screen. What is far off the page stays far off.
pub(super) fn short(number: f64) -> String {
    let number = if number.is_nan() { 0.0 } else { number.clamp(-1e5, 1e5) };
    let tenths = kernel::floor(number * 10.0 + 0.5) / 10.0;
    format!("{}", if tenths == 0.0 { 0.0 } else { tenths })
}
