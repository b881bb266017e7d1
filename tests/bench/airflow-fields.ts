/** What rules and a sweep make of fields whose integral is known, as a part of it. */
import { endRule } from '../../server/measure/airflow/ends.ts';
import { positions, type Rule } from '../../server/measure/airflow/positions.ts';
import { EVEN, type FieldShape, OutletField } from '../../simulator/outlet-field.ts';

/** A slot of 800 mm, thin enough to be a line. */
const LENGTH_M = 0.8;
const WIDTH_M = 0.0001;
export const HEAD_M = 0.1;

export const FIELDS: readonly (readonly [string, Partial<FieldShape>])[] = [
  ['uniform', {}],
  ['1/7 power along', { endPower: 1 / 7 }],
  ['dead ends of 26.5 mm', { deadM: 0.0265 }],
  ['jet at 0.26, sd 0.08', { jets: [{ section: 0, at: 0.26, width: 0.08, strength: 10 }] }],
  ['jet at 0.24, sd 0.14', { jets: [{ section: 0, at: 0.24, width: 0.14, strength: 10 }] }],
  ['jet at 0.3, sd 0.25', { jets: [{ section: 0, at: 0.3, width: 0.25, strength: 1 }] }],
];

const fieldOf = (shape: Partial<FieldShape>): OutletField =>
  new OutletField({
    sections: [{ widthM: WIDTH_M, lengthM: LENGTH_M }],
    freeArea: 1,
    shape: { ...EVEN, ...shape },
  });

/** A flow of which the mean velocity is 1 m/s. */
const UNIT_M3S = LENGTH_M * WIDTH_M;

/** Points along the slot, read by a thin head. */
export function ruleError(shape: Partial<FieldShape>, rule: Rule, n: number): number {
  const field = fieldOf(shape);
  const each = positions(rule, n).map((x) =>
    field.velocityMs(UNIT_M3S, 0, x * LENGTH_M, WIDTH_M / 2),
  );
  return each.reduce((sum, v) => sum + v, 0) / n - 1;
}

/** The 1/7 power profile along and across a duct, n × n points. */
export function ductError(rule: Rule, n: number): number {
  return (1 + ruleError({ endPower: 1 / 7 }, rule, n)) ** 2 - 1;
}

/** A head moved evenly from end to end; before and after the end rule. */
export function sweepError(shape: Partial<FieldShape>): { plain: number; ruled: number } {
  const field = fieldOf(shape);
  const steps = 4000;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const alongM = HEAD_M / 2 + ((i + 0.5) / steps) * (LENGTH_M - HEAD_M);
    sum += field.headMs(UNIT_M3S, HEAD_M, { section: 0, alongM, acrossM: WIDTH_M / 2 });
  }
  const mean = sum / steps;
  return { plain: mean - 1, ruled: mean * endRule(HEAD_M, LENGTH_M).factor - 1 };
}
