// Where things are on the demo's clip, as a coach would click them.

export const POLES = [
  [1, 'left', 839.4, 616.2], [1, 'right', 805.4, 628.1], [2, 'left', 1002.6, 616.6], [2, 'right', 991.1, 628.5],
  [3, 'left', 1165.9, 618.2], [3, 'right', 1179.6, 629.9], [4, 'left', 1333.2, 618.2], [4, 'right', 1371.0, 631.9],
];
export const BASE = [['take_off_left', 1609.7, 632.3], ['take_off_right', 1700.4, 648.1]];
/** Leading hind, stride by stride. */
export const STRIDES = [[51, 156.1, 630.3], [87, 363.2, 629.2], [123, 559.0, 629.2], [159, 745.4, 630.0], [196, 929.3, 632.9], [232, 1145.6, 635.7], [268, 1395.0, 635.7]];
export const TAKE_OFF = [[303, 1556.2, 637.2], [304, 1559.8, 638.6]];
export const LANDING = [[347, 1762.8, 638.8], [353, 1820.5, 640.1]];
