//! Every column of every file of outside values is read by a test or argued here; the columns that no other test reads.

use std::fs;
use std::path::{Path, PathBuf};

use asfound::domain::reckon::distribution::t_quantile;

use super::{assert_near, at, exact, exact_at, reckoned, rows, word};

/// File, column, and why no test reads it.
const ARGUED: &[(&str, &str, &str)] = &[
    ("circle", "unit", "the figures have no unit; they are reckoned as mm, which changes none of them"),
    ("conformity", "distribution", "the degrees of freedom beside it say the same: blank is normal"),
    ("grubbs_cases", "unit", "the test is of figures over their spread, in any unit"),
    ("uncertainty", "unit", "the budgets are reckoned without one"),
    ("repeats", "unit", "mean and spread are in the unit of the readings, whatever it is"),
    ("line_points", "i", "numbers the points in the order of the file"),
    ("runout", "note", "tells in words what the readings were made from"),
    ("lift", "place", "names the place"),
    ("trend", "line_state", "read under a name built from `line` and `bound`"),
    ("trend", "bound_state", "read under a name built from `line` and `bound`"),
    ("trend", "hours_line_crosses", "read under a name built from `line` and `bound`"),
    ("trend", "hours_bound_crosses", "read under a name built from `line` and `bound`"),
    ("trend", "hours_left_line", "read under a name built from `line` and `bound`"),
    ("trend", "hours_left_bound", "read under a name built from `line` and `bound`"),
];

fn sources(folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            let text = fs::read_to_string(&path).unwrap();
            // the list of what is argued above reads nothing
            let read = if path.ends_with("columns.rs") { text.split_once("\n];\n").unwrap().1 } else { &text };
            found.push(read.to_owned());
        }
    }
}

#[test]
fn every_column_is_read_or_argued() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut texts = Vec::new();
    sources(&root.join("it"), &mut texts);
    let mut files = 0;
    for entry in fs::read_dir(root.join("data/outside")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let readers: Vec<_> = texts.iter().filter(|text| text.contains(&format!("\"{name}\""))).collect();
        assert!(!readers.is_empty(), "nothing reads {name}.csv");
        files += 1;
        for column in csv::Reader::from_path(&path).unwrap().headers().unwrap() {
            // where a row comes from is for people
            if matches!(column, "source" | "confirmed") {
                continue;
            }
            let read = readers.iter().any(|text| text.contains(&format!("\"{column}\"")));
            let argued = ARGUED.iter().any(|(file, argued, _)| *file == name && *argued == column);
            assert!(read || argued, "{name}.csv: no test reads `{column}`");
        }
    }
    assert!(files >= 37, "{files} files");
    let in_file = |(file, column, _): &(&str, &str, &str)| rows(file).iter().all(|row| row.contains_key(*column));
    assert!(ARGUED.iter().all(in_file), "an argument for a column that is gone");
}

/// What the documents print is the full value, which other tests hold the program to, rounded to as many digits.
#[test]
fn published_figures_are_the_full_ones_rounded() {
    for (file, published, full) in [
        ("balance", "published_u_per", "u_per_g_mm"),
        ("balance", "published_a", "u_per_a_g_mm"),
        ("balance", "published_b", "u_per_b_g_mm"),
        ("circle", "published_x", "centre_x"),
        ("circle", "published_y", "centre_y"),
        ("circle", "published_r", "radius"),
        ("conformity", "published_p", "p_conform"),
        ("grubbs_cases", "published_g", "g"),
        ("grubbs_cases", "published_g_critical", "g_critical"),
        ("line", "published_a", "a"),
        ("line", "published_u_a", "u_a"),
        ("line", "published_b", "b"),
        ("line", "published_u_b", "u_b"),
        ("line", "published_cov", "cov_ab"),
        ("line", "published_ssr", "ssr_or_chi2"),
        ("line", "published_s", "s"),
        ("line_inverse", "published_x", "x"),
        ("line_inverse", "published_u_x", "u_x"),
        ("line_predict", "published_y", "y"),
        ("line_predict", "published_se", "se"),
        ("line_predict", "published_lower", "lower"),
        ("line_predict", "published_upper", "upper"),
        ("repeats", "published_mean", "mean"),
        ("repeats", "published_s", "s"),
        ("repeats", "published_s_mean", "s_mean"),
        ("uncertainty", "published_u_c", "u_c"),
        ("uncertainty", "published_nu", "nu_truncated"),
        ("uncertainty", "published_k", "k_truncated"),
        ("uncertainty", "published_U", "U_truncated"),
    ] {
        let printed: Vec<_> = rows(file).into_iter().filter(|row| !row[published].is_empty()).collect();
        assert!(!printed.is_empty(), "{file} {published}");
        for row in printed {
            let names: Vec<_> = ["id", "dataset", "budget"].iter().filter_map(|key| row.get(*key)).collect();
            // the three documents that rounded or cut off before their last step
            let early = match (names.first().map(|name| name.as_str()), published) {
                (Some("uranium"), "published_g")
                | (Some("gum-h1"), "published_U")
                | (Some("gum-g41"), "published_nu" | "published_k") => true,
                (_, _) => false,
            };
            assert_eq!(is_rounded(&row[published], &row[full]), !early, "{file} {names:?} {published}");
        }
    }
}

fn is_rounded(published: &str, full: &str) -> bool {
    let unit = match published.split_once('.') {
        Some((_, places)) => 0.1_f64.powi(i32::try_from(places.len()).unwrap()),
        None => 10_f64.powi(i32::try_from(published.len() - published.trim_end_matches('0').len()).unwrap()),
    };
    let off = published.parse::<f64>().unwrap() - full.parse::<f64>().unwrap();
    off.abs() <= unit / 2.0 * (1.0 + 1e-9)
}

/// The number that programs get beside a fraction is the fraction's decimal.
#[test]
fn decimals_stand_beside_their_fractions() {
    for (file, fraction, decimal) in [
        ("lands", "ratio", "ratio_decimal"),
        ("lands", "depth_um", "depth_um_decimal"),
        ("lands", "depth_at_limit_um", "depth_at_limit_decimal"),
        ("lift", "mean_mm", "mean_decimal_mm"),
        ("relative_clearance", "permille", "permille_decimal"),
        ("worst_place", "worst_mm", "worst_decimal_mm"),
    ] {
        for row in rows(file) {
            let number = asfound::domain::reckon::Answers::new().exact("it", &exact(&row[fraction]));
            assert_near(&at(&number, "it"), &row[decimal], &format!("{file} {fraction}"));
        }
    }
}

#[test]
fn lift_csv_smallest_and_largest_repeat() {
    for row in rows("lift") {
        let list = |column: &str| row[column].split(';').map(str::to_owned).collect::<Vec<_>>();
        let pairs: Vec<_> = list("down_mm").iter().zip(list("up_mm")).map(|(a, b)| format!("[{a}, {b}]")).collect();
        let answers = reckoned("lift", &[format!("places=[{{place: it, pairs: [{}]}}]", pairs.join(", "))]);
        let clearances: Vec<_> =
            (0..pairs.len()).map(|n| exact(&at(&answers, &format!("places.0.clearances.{n}")))).collect();
        assert_eq!(clearances.iter().min(), Some(&exact(&row["min_mm"])), "{}", row["id"]);
        assert_eq!(clearances.iter().max(), Some(&exact(&row["max_mm"])), "{}", row["id"]);
    }
}

/// ISO 21940-11:2016 6.3.3 and 7.2: speed in rad/s, unbalance over mass, and the shares by the levers before any bound.
#[test]
fn balance_csv_speed_eccentricity_and_levers() {
    for row in rows("balance") {
        let id = &row["id"];
        let omega = reckoned("convert", &[format!("value={} r/min", row["speed_r_min"]), "to=rad/s".to_owned()]);
        near(&at(&omega, "value"), &row["omega_rad_s"], id);
        let mut given: Vec<_> = ["grade_mm_s", "mass_kg", "speed_r_min"]
            .iter()
            .zip(["grade", "mass", "speed"])
            .map(|(column, key)| format!("{key}={}", row[*column]))
            .collect();
        given.push(format!("arrangement={}", row["arrangement"]));
        given.extend(word("a", &row["l_a_mm"]));
        given.extend(word("b", &row["l_b_mm"]));
        let answers = reckoned("unbalance", &given);
        let number = |key: &str| at(&answers, key).parse::<f64>().unwrap();
        let mass: f64 = row["mass_kg"].parse().unwrap();
        near(&(number("total") / mass).to_string(), &row["e_per_um"], id);
        for (key, column) in [("a", "lever_a_g_mm"), ("b", "lever_b_g_mm")] {
            if row[column].is_empty() {
                continue;
            }
            let lever: f64 = row[column].parse().unwrap();
            let held = (number(key) - lever).abs() > 1e-9 * lever;
            assert!(!held || row["limited"] == "yes", "{id} {key}");
        }
    }
}

/// ISO 1: the definition of the coefficient, not its first-order form, which is off by the square of what it corrects.
#[test]
fn temperature_csv_is_not_the_first_order_form() {
    let mut apart = 0;
    for row in rows("temperature") {
        let body = |key: &str, expansion: &str, temperature: &str| {
            let given = (!row[expansion].is_empty() && !row[temperature].is_empty()).then_some(());
            given.map(|()| format!("{key}={{temperature: {}, expansion: {} um/m/K}}", row[temperature], row[expansion]))
        };
        let mut given = vec![format!("length={}", row["reading_mm"])];
        given.extend(body("part", "alpha_part_um_per_m_K", "t_part_cel"));
        given.extend(body("gauge", "alpha_gauge_um_per_m_K", "t_gauge_cel"));
        let answers = reckoned("to-20", &given);
        near(&at(&answers, "length_20"), &row["length20_exact_mm"], &row["id"]);
        let off = &exact_at(&answers, "length_20") - &exact(&row["length20_first_order_mm"]);
        assert!(off.abs() < exact("0.0001"), "{}: {off}", row["id"]);
        apart += usize::from(off.abs() > exact("0.0000001"));
    }
    assert!(apart > 0, "no row tells the two apart");
}

/// The correlation of intercept and slope, ISO/TS 28037:2010 and JCGM 100:2008 H.3.
#[test]
fn line_csv_correlation() {
    let points = rows("line_points");
    for row in rows("line").iter().filter(|row| !row["r_ab"].is_empty()) {
        let of = |column: &str| {
            let own = points.iter().filter(|point| point["dataset"] == row["dataset"]);
            own.map(|point| point[column].clone()).collect::<Vec<_>>().join("; ")
        };
        let mut given = vec![format!("x={}", of("x")), format!("y={}", of("y"))];
        if row["model"] == "known_u" {
            given.push(format!("u={}", of("u_y")));
        }
        let answers = reckoned("line", &given);
        let number = |key: &str| at(&answers, key).parse::<f64>().unwrap();
        let correlation = number("covariance") / (number("u_intercept") * number("u_slope"));
        near(&correlation.to_string(), &row["r_ab"], &row["dataset"]);
    }
}

/// `exact.csv`: what doubles would say, each figure multiplied to millimetres first. The program's verdict is the other column.
#[test]
fn exact_csv_doubles_would_say_otherwise() {
    let millimetres = |figure: &str, unit: &str| {
        let factor = match unit {
            "um" => 0.001,
            "in" => 25.4,
            "thou" => 0.0254,
            _ => 1.0,
        };
        figure.parse::<f64>().unwrap() * factor
    };
    let mut wrong = 0;
    for row in rows("exact") {
        let figure = |size: &str, unit: &str| millimetres(&row[size], &row[unit]);
        let (difference, limit) = (figure("a", "a_unit") - figure("b", "b_unit"), figure("limit", "limit_unit"));
        let fails = row["touching_fails"] == "yes";
        let bad = match row["limit_kind"].as_str() {
            "max" => difference > limit || (fails && difference >= limit),
            _ => difference < limit || (fails && difference <= limit),
        };
        assert_eq!(if bad { "fail" } else { "ok" }, row["binary_verdict"], "{}", row["id"]);
        wrong += usize::from(row["binary_verdict"] != row["verdict"]);
    }
    assert!(wrong > 15, "doubles go wrong in {wrong} rows");
}

/// JCGM 100:2008 G.4: coverage factor and expanded uncertainty by the degrees of freedom as they are, not cut.
#[test]
fn uncertainty_csv_by_fractional_degrees_of_freedom() {
    for row in rows("uncertainty") {
        let number = |column: &str| row[column].parse::<f64>().unwrap();
        let dof = if row["nu_eff"] == "inf" { f64::INFINITY } else { number("nu_eff") };
        let k = t_quantile((number("p_percent") / 100.0).midpoint(1.0), dof);
        near(&k.to_string(), &row["k_fractional"], &row["budget"]);
        near(&(k * number("u_c")).to_string(), &row["U_fractional"], &row["budget"]);
    }
}

/// ISO 286: what a pair is called follows from its clearances.
#[test]
fn fits_are_of_their_kind() {
    for row in rows("iso286_fits") {
        let size = &row["nominal_mm"];
        let answers =
            reckoned("fit", &[format!("hole={size} {}", row["hole"]), format!("shaft={size} {}", row["shaft"])]);
        let [min, max] = ["clearance.min", "clearance.max"].map(|key| exact_at(&answers, key));
        let kind = match (min.is_negative(), max.is_negative()) {
            (false, _) => "clearance",
            (true, false) => "transition",
            (true, true) => "interference",
        };
        assert_eq!(kind, row["kind"], "{size} {} {}", row["hole"], row["shaft"]);
    }
}

fn near(found: &str, expected: &str, what: &str) {
    let (found, expected): (f64, f64) = (found.parse().unwrap(), expected.parse().unwrap());
    assert!((found - expected).abs() <= 1e-12 * expected.abs(), "{what}: {found}, expected {expected}");
}
