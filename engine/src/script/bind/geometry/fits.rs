//! Lines and planes through measured points.

use super::take::points;
use crate::geometry::{self, LineFit, PlaneFit};
use crate::quantity::Quantity;
use crate::script::native::Functions;
use rhai::Dynamic;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "fit_line(points)",
        "The straight line with the least sum of squared distances from two or more points; it runs rearward (x ≥ 0), straight across the car as the points are listed: \
         `.direction .point .line .residual` (the largest distance of a point) `.residuals .rms` (three points or more; \
         √(Σd²/(2n − 4))). All coordinates count alike. It may stand wherever a line may.",
        |a| geometry::fit_line(&points(&a[0], "the points")?).map(Dynamic::from),
    );
    functions.add(
        "fit_plane(points)",
        "The plane with the least sum of squared distances from three or more points: `.normal .point .plane .residual` (the \
         largest distance of a point) `.residuals .rms` (four points or more; √(Σd²/(n − 3))). It may stand wherever a plane \
         may.",
        |a| geometry::fit_plane(&points(&a[0], "the points")?).map(Dynamic::from),
    );
    line_properties(functions);
    plane_properties(functions);
}

fn line_properties(functions: &mut Functions) {
    functions
        .property::<LineFit>("line_fit.direction", "A fitted line's rearward unit vector.", |fit| {
            Ok(Dynamic::from(fit.direction()))
        })
        .property::<LineFit>("line_fit.point", "The points' centroid, on the fitted line.", |fit| {
            Ok(Dynamic::from(fit.point()))
        })
        .property::<LineFit>("line_fit.line", "The fitted line.", |fit| Ok(Dynamic::from(fit.line())))
        .property::<LineFit>(
            "line_fit.residual",
            "The largest distance of a point from the line.",
            |fit| Ok(Dynamic::from(fit.worst())),
        )
        .property::<LineFit>(
            "line_fit.residuals",
            "The distance of each point from the line.",
            |fit| Ok(list(fit.residuals())),
        )
        .property::<LineFit>("line_fit.rms", "The points' scatter, √(Σd²/(2n − 4)).", |fit| {
            fit.rms().map(Dynamic::from)
        });
}

fn plane_properties(functions: &mut Functions) {
    functions
        .property::<PlaneFit>("plane_fit.normal", "A fitted plane's unit normal.", |fit| {
            Ok(Dynamic::from(fit.normal()))
        })
        .property::<PlaneFit>("plane_fit.point", "The points' centroid, on the fitted plane.", |fit| {
            Ok(Dynamic::from(fit.point()))
        })
        .property::<PlaneFit>("plane_fit.plane", "The fitted plane.", |fit| {
            Ok(Dynamic::from(fit.plane()))
        })
        .property::<PlaneFit>(
            "plane_fit.residual",
            "The largest distance of a point from the plane.",
            |fit| Ok(Dynamic::from(fit.worst())),
        )
        .property::<PlaneFit>(
            "plane_fit.residuals",
            "The distance of each point from the plane.",
            |fit| Ok(list(fit.residuals())),
        )
        .property::<PlaneFit>("plane_fit.rms", "The points' scatter, √(Σd²/(n − 3)).", |fit| {
            fit.rms().map(Dynamic::from)
        });
}

fn list(quantities: Vec<Quantity>) -> Dynamic {
    Dynamic::from(quantities.into_iter().map(Dynamic::from).collect::<Vec<_>>())
}
