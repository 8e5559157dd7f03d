//! `[shell.<surface>]`: what heat passes.

use crate::fields::{Choice, Text, typed};
use crate::units::{HeatTransfer, Metres, Ratio, SquareMetres, WattsPerMetreKelvin};

typed! {
    /// `[shell.<surface>]`: what heat passes.
    Surface = "shell" {
        /// What it is made of.
        about: Text;
        /// Its area, without windows that are components of their own.
        area: SquareMetres;
        /// Heat it lets through. Give this, or thickness and conductivity of its insulation.
        u_value: HeatTransfer;
        /// Thickness of its insulation.
        thickness: Metres;
        /// Conductivity of its insulation.
        conductivity: WattsPerMetreKelvin;
        /// Which way it faces; the sun reaches every side but down.
        faces: Choice;
        /// Share of the sun on it that comes in as heat. Windows: as their maker says.
        solar_gain: Ratio;
        /// Share of the sun that its outer skin takes up, where none comes in.
        absorptance: Ratio;
    }
}
