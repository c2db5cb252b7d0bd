//! Moved air through whole nights: does its heat balance, does it fade into still air, is it as
//! exact as promised, and do makers find in it what they know?

#![allow(clippy::unwrap_used, reason = "a night that cannot be computed has failed the test")]

mod accuracy;
mod arranged;
#[path = "../orders/deviation.rs"]
mod deviation;
mod drafts;
mod lopsided;
mod nights;
mod story;
