//! The two pictures: error against distance, and stated against found coverage.

use groundline::draw::{Anchor, Area, Colour, Drawing, Paint, Spot, Svg, TextLine, Theme, Weight};

use super::score::{Datum, quantile, sds_that_hold};

const THEME: Theme = Theme::LIGHT;
const TEXT: f64 = 13.0;
/// Where the legend begins.
const LEGEND: Spot = Spot::new(20.0, 60.0);

/// One panel's axes.
struct Panel {
    area: Area,
    x: (f64, f64),
    /// Ends of the upright axis; logarithms when `log`.
    y: (f64, f64),
    log: bool,
}

impl Panel {
    fn x(&self, value: f64) -> f64 {
        self.area.left + (value - self.x.0) / (self.x.1 - self.x.0) * self.area.width()
    }

    fn y(&self, value: f64) -> f64 {
        let of = |v: f64| if self.log { v.max(1e-9).ln() } else { v };
        let (low, high) = (of(self.y.0), of(self.y.1));
        let share = (of(value) - low) / (high - low);
        self.area.bottom - share.clamp(0.0, 1.0) * self.area.height()
    }

    fn spot(&self, x: f64, y: f64) -> Spot {
        Spot::new(self.x(x), self.y(y))
    }

    /// Ground, rules with their numbers, and the names of the axes.
    fn draw(&self, svg: &mut Svg, title: &str, ticks: (&[f64], &[(f64, &str)]), x_name: &str) {
        let area = self.area;
        svg.rect(&area, 0.0, &Paint::fill(THEME.card));
        let heading = TextLine::new(title, 1.1 * TEXT, Weight::Bold, THEME.ink);
        svg.text(&heading, Spot::new(area.left, area.top - 0.8 * TEXT), Anchor::Start);
        let rule = Paint::stroke(THEME.line, 0.6).faint(0.35);
        for (at, words) in ticks.1 {
            let y = self.y(*at);
            svg.line(Spot::new(area.left, y), Spot::new(area.right, y), &rule);
            let label = TextLine::new(*words, TEXT, Weight::Regular, THEME.muted);
            svg.text(&label, Spot::new(area.left - 0.5 * TEXT, y + 0.36 * TEXT), Anchor::End);
        }
        for at in ticks.0 {
            let x = self.x(*at);
            svg.line(Spot::new(x, area.top), Spot::new(x, area.bottom), &rule);
            let label = TextLine::new(format!("{at}"), TEXT, Weight::Regular, THEME.muted);
            svg.text(&label, Spot::new(x, area.bottom + 1.4 * TEXT), Anchor::Middle);
        }
        let name = TextLine::new(x_name, TEXT, Weight::Regular, THEME.ink);
        svg.text(&name, Spot::new(area.middle().x, area.bottom + 3.1 * TEXT), Anchor::Middle);
        let frame = Paint::stroke(THEME.line, 1.0);
        svg.line(Spot::new(area.left, area.bottom), Spot::new(area.right, area.bottom), &frame);
        svg.line(Spot::new(area.left, area.top), Spot::new(area.left, area.bottom), &frame);
    }
}

/// How a series is told apart without its colour.
#[derive(Clone, Copy)]
enum Dot {
    Filled,
    Open,
    Square,
    None,
}

#[derive(Clone, Copy)]
struct Hand {
    colour: Colour,
    dot: Dot,
    dash: Option<(f64, f64)>,
}

impl Hand {
    fn draw(&self, svg: &mut Svg, spots: &[Spot]) {
        let line = Paint::stroke(self.colour, 2.0);
        svg.polyline(spots, &self.dash.map_or(line, |(on, off)| line.dashed(on, off)));
        for spot in spots {
            match self.dot {
                Dot::Filled => svg.circle(*spot, 4.2, &Paint::fill(self.colour)),
                Dot::Open => {
                    svg.circle(*spot, 4.2, &Paint::fill(THEME.card).outlined(self.colour, 2.0));
                }
                Dot::Square => {
                    svg.rect(&Area::around(*spot, 8.0, 8.0), 0.0, &Paint::fill(self.colour));
                }
                Dot::None => {}
            }
        }
    }

    /// A line of the legend; gives where the next may begin.
    fn explain(&self, svg: &mut Svg, at: Spot, words: &str) -> f64 {
        let middle = at.y - 0.36 * TEXT;
        let ends = [Spot::new(at.x, middle), Spot::new(at.x + 34.0, middle)];
        let line = Paint::stroke(self.colour, 2.0);
        svg.polyline(&ends, &self.dash.map_or(line, |(on, off)| line.dashed(on, off)));
        let spot = Spot::new(at.x + 17.0, middle);
        Self { dash: None, ..*self }.draw(svg, &[spot]);
        let label = TextLine::new(words, TEXT, Weight::Regular, THEME.ink);
        svg.text(&label, Spot::new(at.x + 42.0, at.y), Anchor::Start);
        at.x + 42.0 + label.width() + 24.0
    }
}

const OURS: Hand = Hand { colour: THEME.leading, dot: Dot::Filled, dash: None };
const STATED: Hand = Hand { colour: THEME.ink, dot: Dot::None, dash: Some((1.5, 5.0)) };
const PLAIN: Hand = Hand { colour: THEME.take_off, dot: Dot::Open, dash: Some((8.0, 5.0)) };

/// Two of three errors of a normal distribution lie within one standard deviation.
const ONE_SD: f64 = 0.6827;

/// Errors of stride lengths by how far the camera was from the stride.
pub fn against_distance(panels: [(&str, Vec<&Datum>); 2]) -> Drawing {
    let (width, height) = (980.0, 500.0);
    let mut svg =
        Svg::new(width, height, "Error of a stride length against distance to the camera");
    svg.rect(&Area::at(0.0, 0.0, width, height), 0.0, &Paint::fill(THEME.paper));
    title(&mut svg, "Error of one stride length", ", by distance from the camera to the stride");
    let at = LEGEND;
    let next = OURS.explain(&mut svg, at, "this tool: two of three errors are below");
    let next = STATED.explain(&mut svg, Spot::new(next, at.y), "what its ± says of that");
    PLAIN.explain(&mut svg, Spot::new(next, at.y), "plain homography, same clicks");
    let ticks = [
        (0.003, "3 mm"),
        (0.01, "1 cm"),
        (0.03, "3 cm"),
        (0.1, "10 cm"),
        (0.3, "30 cm"),
        (1.0, "1 m"),
    ];
    for (i, (name, data)) in panels.into_iter().enumerate() {
        let area = Area::at(72.0 + 484.0 * i as f64, 104.0, 404.0, 330.0);
        let panel = Panel { area, x: (5.0, 35.0), y: (0.002, 2.0), log: true };
        let across = [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0];
        panel.draw(&mut svg, name, (&across, &ticks), "metres from the camera");
        for datum in &data {
            let error = datum.judged.error.abs();
            // What is smaller than the scale's first mark is not heaped up on its edge.
            if (panel.x.0..panel.x.1).contains(&datum.away_m) && error >= panel.y.0 {
                let spot = panel.spot(datum.away_m, error);
                svg.circle(spot, 1.5, &Paint::glaze(THEME.leading, 0.28));
            }
        }
        let [mut ours, mut stated, mut plain] = [const { Vec::new() }; 3];
        for low in (5..35).step_by(3) {
            let (low, high) = (f64::from(low), f64::from(low) + 3.0);
            let within: Vec<_> = data.iter().filter(|d| (low..high).contains(&d.away_m)).collect();
            // Fewer make no share of two in three worth drawing.
            if within.len() < 20 {
                continue;
            }
            let middle = low + 1.5;
            let errors = within.iter().map(|d| d.judged.error.abs());
            ours.push(panel.spot(middle, quantile(errors, ONE_SD)));
            let sds: Vec<f64> = within.iter().map(|d| d.judged.sd).collect();
            stated.push(panel.spot(middle, quantile_of_normals(&sds, ONE_SD)));
            let errors: Vec<f64> = within.iter().filter_map(|d| d.plain).collect();
            if errors.len() >= 20 {
                let errors = errors.iter().map(|error| error.abs());
                plain.push(panel.spot(middle, quantile(errors, ONE_SD)));
            }
        }
        PLAIN.draw(&mut svg, &plain);
        OURS.draw(&mut svg, &ours);
        STATED.draw(&mut svg, &stated);
    }
    svg.finish()
}

/// The size below which `share` of errors should lie that are normal with these deviations.
fn quantile_of_normals(sds: &[f64], share: f64) -> f64 {
    let (mut low, mut high) = (0.0, 10.0 * sds.iter().copied().fold(0.0, f64::max));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let inside = |sd: &f64| libm::erf(middle / sd / std::f64::consts::SQRT_2);
        if sds.iter().map(inside).sum::<f64>() < share * sds.len() as f64 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Stated coverage against found, a panel for each group of numbers and a line for each way to
/// hold the camera.
pub fn calibration(panels: [(&str, [Vec<&Datum>; 3]); 2], names: [&str; 3]) -> Drawing {
    let (width, height) = (980.0, 574.0);
    let mut svg = Svg::new(width, height, "Stated coverage of the intervals against found");
    svg.rect(&Area::at(0.0, 0.0, width, height), 0.0, &Paint::fill(THEME.paper));
    title(&mut svg, "How honest the ± is", ": share of truths inside, against the share stated");
    let hands = [
        OURS,
        Hand { colour: THEME.trailing, dot: Dot::Open, dash: Some((8.0, 5.0)) },
        Hand { colour: THEME.landing, dot: Dot::Square, dash: Some((2.0, 5.0)) },
    ];
    let mut at = LEGEND;
    for (hand, name) in hands.iter().zip(names) {
        at.x = hand.explain(&mut svg, at, name);
    }
    let line = Paint::stroke(THEME.ink, 1.2);
    svg.line(
        Spot::new(at.x, at.y - 0.36 * TEXT),
        Spot::new(at.x + 34.0, at.y - 0.36 * TEXT),
        &line,
    );
    let label = TextLine::new("honest", TEXT, Weight::Regular, THEME.ink);
    svg.text(&label, Spot::new(at.x + 42.0, at.y), Anchor::Start);
    let tens: Vec<f64> = (0..=10).map(|i| 10.0 * f64::from(i)).collect();
    let words: Vec<String> = tens.iter().map(|at| format!("{at} %")).collect();
    let ticks: Vec<(f64, &str)> =
        tens.iter().copied().zip(words.iter().map(String::as_str)).collect();
    for (i, (name, groups)) in panels.into_iter().enumerate() {
        let area = Area::at(72.0 + 484.0 * i as f64, 104.0, 404.0, 404.0);
        let panel = Panel { area, x: (0.0, 100.0), y: (0.0, 100.0), log: false };
        panel.draw(&mut svg, name, (&tens, &ticks), "stated, per cent");
        svg.line(panel.spot(0.0, 0.0), panel.spot(100.0, 100.0), &line);
        for (hand, data) in hands.iter().zip(&groups) {
            let spots: Vec<Spot> = levels()
                .map(|level| panel.spot(100.0 * level, 100.0 * found_at(level, data)))
                .collect();
            hand.draw(&mut svg, &spots);
        }
    }
    svg.finish()
}

/// Stated shares that are drawn and printed.
pub fn levels() -> impl Iterator<Item = f64> {
    [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99].into_iter()
}

/// Share of truths within as many stated standard deviations as should hold `level` of them.
pub fn found_at(level: f64, data: &[&Datum]) -> f64 {
    let reach = sds_that_hold(level);
    let inside = data.iter().filter(|d| d.judged.error.abs() <= reach * d.judged.sd).count();
    inside as f64 / data.len().max(1) as f64
}

fn title(svg: &mut Svg, bold: &str, rest: &str) {
    let line = TextLine::new(bold, 1.5 * TEXT, Weight::Bold, THEME.ink).then(
        rest,
        1.5 * TEXT,
        Weight::Regular,
        THEME.muted,
    );
    svg.text(&line, Spot::new(20.0, 32.0), Anchor::Start);
}
