//! From a plot to a file.

use super::{Curve, Plot, Stroke};
use crate::CliError;
use plotters::{
    coord::{Shift, types::RangedCoordf64},
    prelude::*,
    style::{FontStyle, register_font},
};
use std::{error::Error, path::Path};

const SIZE: (u32, u32) = (1000, 700);
const FONT: &str = "sans-serif";

/// Draws a plot into a file whose name ends in .svg or .png.
///
/// # Errors
/// Another ending; a file that cannot be written.
pub fn draw(file: &Path, plot: &Plot) -> Result<(), CliError> {
    // A machine without fonts must have text too.
    register_font(FONT, FontStyle::Normal, epaint_default_fonts::UBUNTU_LIGHT)
        .map_err(|_| CliError::Failed("the built-in font cannot be read".into()))?;
    let ending = file.extension().and_then(|ending| ending.to_str());
    let drawn = match ending {
        Some("svg") => on(&SVGBackend::new(file, SIZE).into_drawing_area(), plot),
        Some("png") => on(&BitMapBackend::new(file, SIZE).into_drawing_area(), plot),
        _ => {
            return Err(CliError::Usage(format!(
                "{}: a plot is a file ending in .svg or .png",
                file.display()
            )));
        }
    };
    drawn.map_err(|error| CliError::Failed(format!("{}: {error}", file.display())))
}

fn on<B: DrawingBackend>(area: &DrawingArea<B, Shift>, plot: &Plot) -> Result<(), Box<dyn Error>>
where
    B::ErrorType: 'static,
{
    area.fill(&WHITE)?;
    let (width, height) = (i32::try_from(SIZE.0)?, i32::try_from(SIZE.1)?);
    let small = (FONT, 19).into_font().color(&BLACK);
    let (x, y) = (
        plot.reach.0.max(f64::MIN_POSITIVE),
        plot.reach.1.max(f64::MIN_POSITIVE),
    );
    area.draw_text(&plot.caption, &small, (20, height - 56))?;
    area.draw_text(
        "Advice only: limits of the part's maker, rules of the sanctioning body and findings at the part come first.",
        &small,
        (20, height - 30),
    )?;
    let (upper, _) = area.split_vertically(height - 66);
    let mut chart = ChartBuilder::on(&upper)
        .caption(&plot.title, (FONT, 30))
        .margin(14)
        .margin_right(width / 30)
        .x_label_area_size(52)
        .y_label_area_size(76)
        .build_cartesian_2d(0.0..x, 0.0..1.03 * y)?;
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .bold_line_style(BLACK.mix(0.12))
        .x_desc(&plot.age)
        .y_desc(&plot.value)
        .axis_desc_style((FONT, 21))
        .label_style((FONT, 19))
        .draw()?;
    for curve in &plot.curves {
        add(&mut chart, curve)?;
    }
    let names = if plot.falls {
        SeriesLabelPosition::LowerLeft
    } else {
        SeriesLabelPosition::UpperLeft
    };
    chart
        .configure_series_labels()
        .position(names)
        .margin(14)
        .background_style(WHITE)
        .border_style(BLACK.mix(0.4))
        .label_font((FONT, 20))
        .draw()?;
    area.present()?;
    Ok(())
}

type Chart<'a, B> = ChartContext<'a, B, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

fn add<'a, B: DrawingBackend + 'a>(
    chart: &mut Chart<'a, B>,
    curve: &Curve,
) -> Result<(), Box<dyn Error>>
where
    B::ErrorType: 'static,
{
    let points = curve.points.iter().copied();
    let (width, dash, gap) = match curve.stroke {
        Stroke::Solid => (3, 0, 0),
        Stroke::Dashed => (3, 14, 8),
        Stroke::Fine => (1, 0, 0),
        Stroke::Dotted => (1, 3, 4),
    };
    let style = BLACK.stroke_width(width);
    let series = if dash == 0 {
        chart.draw_series(LineSeries::new(points, style))?
    } else {
        chart.draw_series(DashedLineSeries::new(points, dash, gap, style))?
    };
    if curve.name.is_empty() {
        return Ok(());
    }
    // In the legend a dashed line is two strokes.
    let short = if dash == 0 { 24 } else { 9 };
    series.label(&curve.name).legend(move |(x, y)| {
        EmptyElement::at((x, y))
            + PathElement::new(vec![(0, 0), (short, 0)], style)
            + PathElement::new(vec![(24 - short, 0), (24, 0)], style)
    });
    Ok(())
}
