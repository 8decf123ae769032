//! Least-squares fits of models with several parameters.

pub mod decay;
pub mod linear;
pub mod nonlinear;

mod precise;
mod qr;
