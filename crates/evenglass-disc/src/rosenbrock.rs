//! Coefficients of the time integrator.
//!
//! RODASP: a six-stage, stiffly accurate, L-stable Rosenbrock method of order 4
//! with an embedded method of order 3 and dense output, whose coefficients also
//! meet the order conditions for parabolic problems: films that change in time
//! cost it no accuracy.
//!
//! # Source
//! G. Steinebach, "Order-reduction of ROW-methods for DAEs and method of lines
//! applications", Preprint 1741, TH Darmstadt (1995); the formulation is that of
//! E. Hairer and G. Wanner, *Solving Ordinary Differential Equations II*, 2nd
//! ed., sections IV.7 and VI.4. The digits are those of the open integrator
//! libraries that carry the method; the order test in `step.rs` would not pass
//! with a wrong one.

/// Number of stages.
pub(crate) const STAGES: usize = 6;

/// Diagonal coefficient γ.
pub(crate) const GAMMA: f64 = 0.25;

/// Weights of earlier stages in the state of a stage.
pub(crate) const A: [[f64; 5]; STAGES] = [
    [0.0; 5],
    [3.0, 0.0, 0.0, 0.0, 0.0],
    [1.831_036_793_486_759, 0.495_518_396_743_379_5, 0.0, 0.0, 0.0],
    [2.304_376_582_692_669, -0.052_492_752_457_430_01, -1.176_798_761_832_782, 0.0, 0.0],
    [
        -7.170_454_962_423_024,
        -4.741_636_671_481_785,
        -16.310_026_313_309_71,
        -1.062_004_044_111_401,
        0.0,
    ],
    [
        -7.170_454_962_423_024,
        -4.741_636_671_481_785,
        -16.310_026_313_309_71,
        -1.062_004_044_111_401,
        1.0,
    ],
];

/// Weights of earlier stages in the right-hand side of a stage, over the step.
pub(crate) const C: [[f64; 5]; STAGES] = [
    [0.0; 5],
    [-12.0, 0.0, 0.0, 0.0, 0.0],
    [-8.791_795_173_947_035, -2.207_865_586_973_518, 0.0, 0.0, 0.0],
    [10.817_930_568_571_53, 6.780_270_611_428_266, 19.534_859_446_424_1, 0.0, 0.0],
    [
        34.190_950_067_496_76,
        15.496_711_537_259_63,
        54.747_608_759_641_3,
        14.160_053_921_485_34,
        0.0,
    ],
    [
        34.626_058_309_305_32,
        15.300_849_761_145_03,
        56.999_555_786_626_67,
        18.408_070_097_930_95,
        -5.714_285_714_285_717,
    ],
];

/// Time of each stage, in steps.
pub(crate) const TIME: [f64; STAGES] = [0.0, 0.75, 0.21, 0.63, 1.0, 1.0];

/// Weight of the right-hand side's own change in time, in steps.
pub(crate) const TIME_SLOPE: [f64; STAGES] = [0.25, -0.5, -0.023_504, -0.0362, 0.0, 0.0];

/// Weights of the stages in the two bending terms of the dense output.
pub(crate) const DENSE: [[f64; 5]; 2] = [
    [
        25.098_767_037_085_89,
        11.620_131_043_618_67,
        28.491_483_077_146_26,
        -5.664_021_568_594_133,
        0.0,
    ],
    [
        1.638_054_557_396_973,
        -0.737_361_980_667_874_8,
        8.477_918_219_238_99,
        15.992_531_487_795_2,
        -1.882_352_941_176_471,
    ],
];
