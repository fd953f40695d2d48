//! The solver against certified values: NIST/ITL Statistical Reference Datasets, nonlinear
//! regression (public domain), files of `../shared/reference/nist-strd`. Each file carries two
//! starting points, certified parameters and their certified standard deviations.

use std::path::Path;

use groundline::survey::least_squares::{Problem, Rows, Stop, covariance, solve};
use nalgebra::DVector;

use crate::support::shared;

/// Value of the model at one x, and its derivatives by the parameters.
type Model = fn(&[f64], f64) -> (f64, Vec<f64>);

struct Dataset {
    name: String,
    model: Model,
    starts: [Vec<f64>; 2],
    certified: Vec<f64>,
    certified_sds: Vec<f64>,
    certified_squares: f64,
    points: Vec<(f64, f64)>,
}

impl Problem for Dataset {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let mut rows = Rows::default();
        for &(y, at) in &self.points {
            let (value, derivatives) = (self.model)(x.as_slice(), at);
            if !value.is_finite() || derivatives.iter().any(|d| !d.is_finite()) {
                return None;
            }
            rows.push(value - y, derivatives.into_iter().enumerate());
        }
        Some(rows)
    }
}

/// `b[first] … b[first + 3]` and so on: a ratio of polynomials whose denominator starts with 1.
fn rational(b: &[f64], x: f64, above: usize) -> (f64, Vec<f64>) {
    let power = |i: usize| x.powi(i as i32);
    let top: f64 = (0..above).map(|i| b[i] * power(i)).sum();
    let bottom: f64 = 1.0 + (above..b.len()).map(|i| b[i] * power(i - above + 1)).sum::<f64>();
    let by_top = (0..above).map(|i| power(i) / bottom);
    let by_bottom = (above..b.len()).map(|i| -top * power(i - above + 1) / (bottom * bottom));
    (top / bottom, by_top.chain(by_bottom).collect())
}

/// A bell `b exp(−(x − centre)² / width²)` and its three derivatives.
fn bell(b: &[f64], x: f64) -> (f64, [f64; 3]) {
    let off = (x - b[1]) / b[2];
    let e = (-off * off).exp();
    (b[0] * e, [e, b[0] * e * 2.0 * off / b[2], b[0] * e * 2.0 * off * off / b[2]])
}

fn model_of(name: &str) -> Model {
    match name {
        "Misra1a" | "BoxBOD" => |b, x| {
            let e = (-b[1] * x).exp();
            (b[0] * (1.0 - e), vec![1.0 - e, b[0] * x * e])
        },
        "Chwirut2" => |b, x| {
            let (e, bottom) = ((-b[0] * x).exp(), b[1] + b[2] * x);
            let y = e / bottom;
            (y, vec![-x * y, -y / bottom, -x * y / bottom])
        },
        "DanWood" => |b, x| {
            let power = x.powf(b[1]);
            (b[0] * power, vec![power, b[0] * power * x.ln()])
        },
        "Lanczos3" => |b, x| {
            let mut derivatives = Vec::new();
            let mut y = 0.0;
            for pair in b.chunks(2) {
                let e = (-pair[1] * x).exp();
                y += pair[0] * e;
                derivatives.extend([e, -pair[0] * x * e]);
            }
            (y, derivatives)
        },
        "Gauss1" => |b, x| {
            let e = (-b[1] * x).exp();
            let (first, by_first) = bell(&b[2..5], x);
            let (second, by_second) = bell(&b[5..8], x);
            let mut derivatives = vec![e, -b[0] * x * e];
            derivatives.extend(by_first.into_iter().chain(by_second));
            (b[0] * e + first + second, derivatives)
        },
        "Kirby2" => |b, x| rational(b, x, 3),
        "Hahn1" | "Thurber" => |b, x| rational(b, x, 4),
        "MGH09" => |b, x| {
            let (top, bottom) = (x * x + x * b[1], x * x + x * b[2] + b[3]);
            let y = b[0] * top / bottom;
            (y, vec![top / bottom, b[0] * x / bottom, -x * y / bottom, -y / bottom])
        },
        "MGH10" => |b, x| {
            let e = (b[1] / (x + b[2])).exp();
            let y = b[0] * e;
            (y, vec![e, y / (x + b[2]), -y * b[1] / (x + b[2]).powi(2)])
        },
        "Rat42" => |b, x| {
            let e = (b[1] - b[2] * x).exp();
            let bottom = 1.0 + e;
            let slope = b[0] * e / (bottom * bottom);
            (b[0] / bottom, vec![1.0 / bottom, -slope, x * slope])
        },
        "Eckerle4" => |b, x| {
            let off = (x - b[2]) / b[1];
            let e = (-0.5 * off * off).exp();
            let y = b[0] / b[1] * e;
            (y, vec![e / b[1], y * (off * off - 1.0) / b[1], y * off / b[1]])
        },
        "Bennett5" => |b, x| {
            let power = (b[1] + x).powf(-1.0 / b[2]);
            let y = b[0] * power;
            let by_exponent = y * (b[1] + x).ln() / (b[2] * b[2]);
            (y, vec![power, -y / (b[2] * (b[1] + x)), by_exponent])
        },
        other => panic!("no model is written here for {other}"),
    }
}

fn read(path: &Path) -> Dataset {
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    let text = std::fs::read_to_string(path).unwrap();
    let (head, data) = text.split_at(text.rfind("Data:").unwrap());
    let parse = |word: &str| word.parse::<f64>().unwrap_or_else(|_| panic!("{name}: {word}"));
    let mut table: [Vec<f64>; 4] = Default::default();
    for line in head.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        if let [parameter, "=", rest @ ..] = words.as_slice()
            && parameter.starts_with('b')
            && rest.len() == 4
        {
            for (column, word) in table.iter_mut().zip(rest) {
                column.push(parse(word));
            }
        }
    }
    let squares = head.lines().find(|l| l.starts_with("Residual Sum of Squares")).unwrap();
    let points = data
        .lines()
        .skip(1)
        .filter(|line| !line.trim().is_empty())
        .map(|line| {
            let words: Vec<f64> = line.split_whitespace().map(parse).collect();
            (words[0], words[1])
        })
        .collect();
    let [first, second, certified, certified_sds] = table;
    Dataset {
        model: model_of(&name),
        starts: [first, second],
        certified,
        certified_sds,
        certified_squares: parse(squares.split_whitespace().last().unwrap()),
        points,
        name,
    }
}

/// How many significant digits agree (NIST's log relative error).
fn digits(found: f64, certified: f64) -> f64 {
    -((found - certified).abs() / certified.abs()).max(1e-16).log10()
}

#[test]
fn solver_reaches_the_certified_values_from_both_starts() {
    let Some(folder) = shared("reference/nist-strd") else { return };
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "dat"));
    files.sort();
    assert!(files.len() >= 14, "only {} datasets", files.len());
    let mut short = Vec::new();
    for file in &files {
        let set = read(file);
        let unknowns = set.certified.len();
        for (number, start) in set.starts.iter().enumerate() {
            let start = DVector::from_vec(start.clone());
            let solution = solve(&set, start, Stop::EXACT).unwrap();
            let squares = 2.0 * solution.rows.cost();
            let redundancy = (set.points.len() - unknowns) as f64;
            let values = (0..unknowns)
                .map(|i| digits(solution.x[i], set.certified[i]))
                .fold(f64::INFINITY, f64::min);
            let sds = covariance(&solution.rows, unknowns).map_or(0.0, |covariance| {
                (0..unknowns)
                    .map(|i| (squares / redundancy * covariance[(i, i)]).sqrt())
                    .zip(&set.certified_sds)
                    .map(|(found, certified)| digits(found, *certified))
                    .fold(f64::INFINITY, f64::min)
            });
            let squares = digits(squares, set.certified_squares);
            println!(
                "{:9} start {}: {:4} steps, digits of values {values:.1}, of sds {sds:.1}, of \
                 squares {squares:.1}, converged {}",
                set.name,
                number + 1,
                solution.iterations,
                solution.converged
            );
            if !(values >= 6.0 && sds >= 6.0 && squares >= 6.0 && solution.converged) {
                short.push(format!("{} start {}", set.name, number + 1));
            }
        }
    }
    assert!(short.is_empty(), "fewer than 6 digits: {short:?}");
}
