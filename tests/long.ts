/**
 * The long form of the tests: `PLATEAU_TEST_LONG=1 npm test`, as CI runs them. Without it, tests that draw
 * their cases draw fewer, kills are fewer, and what checks the checks of the house is left out.
 */
export const LONG = process.env['PLATEAU_TEST_LONG'] === '1';

/** The part of the cases that is drawn without it. */
const SHORT_SHARE = 0.2;

/** So many cases, or in the short form a part of them. */
export const runs = (count: number): number => (LONG ? count : Math.ceil(SHORT_SHARE * count));
