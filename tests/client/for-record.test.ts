import { describe, expect, it } from 'vitest';
import {
  probeChange,
  probeTexts,
  systemChange,
  systemTexts,
  unitChange,
  unitTexts,
  visitChange,
  visitTexts,
} from '../../client/words/for-record.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { probeWith, UNIT, VISIT } from './fixtures.ts';

const SI = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const US = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const STUDY = {
  ...UNIT,
  name: 'Study',
  details: { form: 'wall', nominalW: 3500, system: 's1' },
};

describe('what is said for the record', () => {
  it('only what was changed is sent; what was emptied is sent as empty', () => {
    const start = visitTexts({ ...VISIT, details: { address: '4 Wrenfold Lane', why: 'noise' } });
    expect(visitChange(start, start)).toEqual({});
    expect(visitChange(start, { ...start, why: '', customer: 'Library' })).toEqual({
      why: '',
      customer: 'Library',
    });
  });

  it('a nominal capacity is in the person’s scale, and untouched stays as exact as it was', () => {
    const start = unitTexts(STUDY, US);
    expect(start.nominal).toBe('11940'); // 3500 W × 3.412142 Btu/h/W = 11942, to ten
    expect(unitChange(start, { ...start, model: 'W9' }, 'Study', US).change).toEqual({
      model: 'W9',
    });
    const changed = unitChange(start, { ...start, nominal: '12000' }, 'Study', US).change;
    expect(changed?.nominalW).toBeCloseTo(3516.85, 1); // 12,000 Btu/h, a ton: 3516.85 W (NIST SP 811, from memory)
  });

  it('a length in feet is kept in meters; the line may lead down', () => {
    const start = systemTexts({ lineLengthM: 7.5 }, US);
    expect(start.length).toBe('24.6');
    const { change } = systemChange(start, { ...start, length: '25', height: '−10' }, String, US);
    expect(change?.lineLengthM).toBeCloseTo(7.62, 6); // 1 ft is 0.3048 m exactly
    expect(change?.lineHeightM).toBeCloseTo(-3.048, 6);
  });

  it('a number that cannot be is refused in words; one that was emptied is taken away', () => {
    const start = systemTexts({ lineLengthM: 7.5 }, SI);
    expect(systemChange(start, { ...start, length: '900' }, String, SI).refusal).toContain(
      'line length',
    );
    expect(systemChange(start, { ...start, length: '' }, String, SI).change).toEqual({
      lineLengthM: null,
    });
    const unit = unitTexts(STUDY, SI);
    expect(unitChange(unit, { ...unit, nominal: 'x' }, 'Study', SI).refusal).toContain('Study');
    expect(unitChange(unit, { ...unit, nominal: '', system: '' }, 'Study', SI).change).toEqual({
      nominalW: null,
      system: null,
    });
  });

  it('a calibration is a day; none lies ahead', () => {
    const now = new Date(2026, 4, 4, 9, 30).getTime();
    const start = probeTexts(probeWith());
    const on = (calibrated: string) => probeChange(start, { ...start, calibrated }, now);
    const { change } = on('2026-02-03');
    expect(
      probeTexts(probeWith({ details: { calibratedT: change?.calibratedT ?? 0 } })).calibrated,
    ).toBe('2026-02-03');
    expect(on('2026-05-04').change?.calibratedT).toBe(now); // today, though noon is still to come
    expect(on('2026-05-05').refusal).toContain('in the future');
    const known = probeTexts(probeWith({ details: { calibratedT: now } }));
    expect(probeChange(known, { ...known, calibrated: '' }, now).change).toEqual({
      calibratedT: null,
    });
  });
});
