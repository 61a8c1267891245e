//! In which words a target was given, as results carry it.

use crate::problem::{Asked, Law, RoadUnit};
use serde::Serialize;

/// What a person asked for, under the keys of the problem file; sizes without
/// a sign.
#[derive(Clone, Copy, Debug, Serialize)]
#[serde(untagged)]
#[allow(missing_docs, reason = "the keys say it")]
pub enum AskedRecord {
    Ratio {
        ratio: f64,
    },
    OutputRpm {
        output_rpm: f64,
        input_rpm: f64,
    },
    RoadSpeedKmh {
        road_speed_kmh: f64,
        input_rpm: f64,
    },
    RoadSpeedMph {
        road_speed_mph: f64,
        input_rpm: f64,
    },
    Series {
        spacing: &'static str,
        series: &'static str,
    },
    Spacing {
        spacing: &'static str,
    },
    OwnTeeth {
        own_teeth: bool,
    },
}

impl AskedRecord {
    /// What was asked, whose target is `ratio`.
    pub fn of(asked: Asked, ratio: f64) -> Self {
        match asked {
            Asked::Ratio => Self::Ratio { ratio },
            Asked::OutputRpm { output, input } => Self::OutputRpm {
                output_rpm: output.to_f64(),
                input_rpm: input.to_f64(),
            },
            Asked::RoadSpeed { speed, unit, input } => {
                let (speed, input_rpm) = (speed.to_f64(), input.to_f64());
                match unit {
                    RoadUnit::Kmh => Self::RoadSpeedKmh {
                        road_speed_kmh: speed,
                        input_rpm,
                    },
                    RoadUnit::Mph => Self::RoadSpeedMph {
                        road_speed_mph: speed,
                        input_rpm,
                    },
                }
            }
            Asked::OwnTeeth => Self::OwnTeeth { own_teeth: true },
            Asked::Spacing(law) => match law {
                Law::Preferred(series) => Self::Series {
                    spacing: law.word(),
                    series: series.word(),
                },
                _ => Self::Spacing {
                    spacing: law.word(),
                },
            },
        }
    }

    /// In a few words; none when the ratio says it.
    pub fn words(&self) -> Option<String> {
        match self {
            Self::Ratio { .. } => None,
            Self::OutputRpm { output_rpm, .. } => Some(format!("{output_rpm} rpm")),
            Self::RoadSpeedKmh { road_speed_kmh, .. } => Some(format!("{road_speed_kmh} km/h")),
            Self::RoadSpeedMph { road_speed_mph, .. } => Some(format!("{road_speed_mph} mph")),
            Self::Series { series, .. } => Some((*series).to_owned()),
            Self::Spacing { spacing } => Some((*spacing).to_owned()),
            Self::OwnTeeth { .. } => Some("its own teeth".to_owned()),
        }
    }
}
