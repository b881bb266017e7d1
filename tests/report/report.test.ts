/** What a report says of a visit, block by block, before anything is drawn. */
import { describe, expect, it } from 'vitest';
import type { Block, ReportContent } from '../../server/report/content.ts';
import { reportOf } from '../../server/report/report-of.ts';
import { resultOf } from '../../server/report/visit.ts';
import { clockMinutes } from '../../server/words/times.ts';
import { T0, TOUCHED_S, visitLines, visitOf } from './visit.ts';

const visit = visitOf(visitLines());
const si = reportOf(visit, 'si');
const ip = reportOf(visit, 'ip');

type Kind<K extends Block['kind']> = Extract<Block, { kind: K }>;
function all<K extends Block['kind']>({ blocks }: ReportContent, kind: K): Kind<K>[] {
  const flat = blocks.flatMap((block): Block[] =>
    block.kind === 'beside' ? [...block.left, ...block.right] : [block],
  );
  return flat.filter((block): block is Kind<K> => block.kind === kind);
}
const plain = (text: string): string => text.replaceAll(/[\u00a0\u202f]/g, ' ');
const texts = (content: ReportContent): string =>
  plain(
    all(content, 'text')
      .map(({ text }) => text)
      .join('\n'),
  );
const headings = (content: ReportContent): string[] =>
  all(content, 'heading').map(({ text }) => text);
function tableWith(content: ReportContent, column: string): string[][] {
  const found = all(content, 'table').find(({ columns }) =>
    columns.some(({ name }) => name === column),
  );
  if (found === undefined) throw new Error(`there is no table with a column ${column}`);
  return found.rows.map((row) => row.map(plain));
}

describe('a report', () => {
  it('has all its parts in order', () => {
    expect(headings(si)).toEqual([
      'Study',
      'Verdict: not asked for all it has',
      'Capacity over time',
      'Air through the unit',
      'Airflow',
      'What the ± is made of',
      'Probes and checks',
      'Captures',
      'How it was worked out',
      'Warnings',
      'Cautions',
      'Signed',
    ]);
  });

  it('says what was said of the visit', () => {
    expect(si.title).toBe('Commissioning record: Alder Court 9');
    expect(si.mark).toBeNull();
    expect(si.foot).toContain('visit-1');
    const [facts] = all(si, 'facts');
    expect(facts?.facts.map(({ name, text }) => `${name}: ${plain(text)}`)).toEqual([
      'Address: 9 Alder Court, Wrenfold',
      'Customer: J. Café',
      'Technician: R. Finch',
      'Why: new head',
      'Outdoor unit: Yard, lines 7.5 m one way, 3.0 m below the head',
    ]);
  });

  it('is about the capture by hand, with the figures that the session told', () => {
    const capture = resultOf(visit.units['u1'] ?? never())?.capture ?? never();
    expect(capture.by).toBe('touch');
    expect(capture.to).toBe(T0 + 1000 * (TOUCHED_S - 1)); // the last second that was worked out
    const [figure] = all(si, 'figure');
    const kW = (w: number): string => (w / 1000).toFixed(2);
    expect(figure?.name).toBe('Total cooling capacity');
    expect(plain(figure?.text ?? '')).toBe(
      `${kW(capture.totalW)} ± ${kW(capture.totalU95W ?? NaN)} kW`,
    );
    expect(texts(si)).toContain(`Mean from ${clockMinutes(capture.from)} over`);
    expect(texts(si)).toContain('steady, by hand.');
  });

  it('converts by the factors that NIST SP 811 prints', () => {
    const capture = resultOf(visit.units['u1'] ?? never())?.capture ?? never();
    const [figure] = all(ip, 'figure');
    // NIST SP 811 (2008), B.8: 1 Btu(IT)/h is 2.930 711 E−01 W; 1 ft³/min is 4.719 474 E−04 m³/s.
    const btuh = Number(
      plain(figure?.text ?? '')
        .replace(/ ±.*/, '')
        .replaceAll(' ', ''),
    );
    expect(Math.abs(btuh * 0.2930711 - capture.totalW)).toBeLessThan(50 * 0.2930711);
    const flowM3s = visit.setup.units['u1']?.airflow?.flowM3s ?? NaN;
    const cfm = Number(/([\d.]+) cfm/.exec(texts(ip))?.[1]);
    expect(Math.abs(cfm * 4.719474e-4 - flowM3s)).toBeLessThan(0.5 * 4.719474e-4);
    // 14 °C is 57.2 °F by definition.
    const supply = tableWith(ip, 'Supply').find(([name]) => name === 'Dry bulb')?.[2] ?? '';
    expect(supply).toBe('57.1 °F'); // corrected by the check, 0.05 K
  });

  it('gives the verdict with what is expected, and what to look at', () => {
    // 3.5 kW, less what thin air takes off at 983 hPa.
    expect(texts(si)).toMatch(
      /Expected: 3\.48 ± 0\.\d+ kW at 35\.0 °C outdoors, 19\.5 °C wet bulb indoors\./,
    );
    expect(texts(si)).toContain('What to look at: ');
  });

  it('marks captures and what was done on the chart', () => {
    const [block] = all(si, 'course');
    const course = block?.course ?? never();
    expect(course.axis).toBe('kW');
    expect(course.spans.map(({ name, isResult }) => [name, isResult])).toEqual([
      ['1', false],
      ['2', false],
      ['3', true],
    ]);
    expect(course.marks.map(({ text }) => plain(text))).toEqual([
      'fan high',
      'airflow',
      'set 18.0 °C',
    ]);
    expect(course.value.at(-1)).toBeCloseTo(3.41, 1);
    expect(block?.alt).toContain('Captures are marked 1 to 3');
  });

  it('draws the mean air of the capture, with both regions about it', () => {
    const [block] = all(si, 'air');
    const picture = block?.picture ?? never();
    expect(picture.to.temperatureC).toBeCloseTo(13.95, 1);
    expect(picture.outlines.map(({ place }) => place)).toEqual(['return', 'supply']);
    const warmest = Math.max(...picture.outlines[1]!.points.map((p) => p.temperatureC));
    expect(warmest).toBeGreaterThan(picture.to.temperatureC + 0.3);
    expect(picture.toTrail.length).toBeGreaterThan(20);
    expect(plain(block?.alt ?? '')).toMatch(/^From return 26\.8 °C, .* colder, .* drier\.$/);
  });

  it('tells of the airflow, and where it comes out', () => {
    expect(texts(si)).toMatch(/^\d+ m³\/h, ± [\d.]+ %, from a grid traverse, at the supply\.$/m);
    expect(tableWith(si, 'Method')[0]?.slice(0, 3)).toEqual([
      'from a grid traverse',
      clockMinutes(T0 + 380_000),
      'high',
    ]);
    const [block] = all(si, 'map');
    const cells = block?.map.sections[0]?.rows[0] ?? [];
    expect(cells.map(({ text }) => text)).toEqual(['2.80', '3.60', '3.40', '2.60']);
    expect(cells[1]?.level).toBe(1);
    expect(cells[3]?.level).toBeCloseTo(2.6 / 3.6, 2);
  });

  it('has the budget of the interval: the squares of its parts add up', () => {
    const [block] = all(si, 'bars');
    const bars = block?.bars ?? [];
    expect(bars[0]?.name).toBe('Uneven air across the outlet');
    expect(bars.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
  });

  it('lists probes with accuracy, check and serial number', () => {
    const rows = tableWith(si, 'Accuracy');
    expect(rows.map(([name, place]) => `${name} ${place}`)).toEqual([
      'R return',
      'S supply',
      'Yard outdoors',
    ]);
    expect(rows[0]?.[2]).toBe('± 0.30 K, ± 2.0 % RH');
    expect(rows[0]?.[3]).toContain('corrected by +0.05 K');
    expect(rows[1]?.[3]).toContain('corrected by −0.05 K');
    expect(rows[2]?.[3]).toBe('not checked');
    expect(rows[0]?.[4]).toBe('7');
  });

  it('says how it was worked out, what is doubtful, and what to beware of', () => {
    const lists = plain(
      all(si, 'list')
        .flatMap(({ items }) => items)
        .join('\n'),
    );
    expect(lists).toContain('Barometric pressure 983 hPa, entered by hand.');
    expect(lists).toContain('outlet 5 % (assumed)');
    expect(lists).toContain('One probe stands for the whole outlet.');
    expect(lists).toContain('local codes');
  });
});

describe('of other visits a report', () => {
  it('marks what is simulated', () => {
    const content = reportOf(visitOf(visitLines(true)), 'si');
    expect(content.mark).toBe('SIMULATED');
    expect(texts(content)).toContain('Simulated readings: no unit was measured.');
  });

  it('marks a visit of which one probe is simulated', () => {
    const lines = visitLines();
    lines.push({ type: 'probe', id: 'o', simulated: true });
    expect(reportOf(visitOf(lines), 'si').mark).toBe('SIMULATED');
  });

  it('has no moisture in heating, where the coil is dry', () => {
    const content = reportOf(visitOf(visitLines(false, 'heating')), 'si');
    const [figure] = all(content, 'figure');
    expect(figure?.name).toBe('Total heating capacity');
    expect(figure?.parts).toEqual([]);
    expect(texts(content)).not.toContain('wet bulb, between');
  });

  it('is not about a capture that was struck out', () => {
    const lines = visitLines();
    const capture = resultOf(visit.units['u1'] ?? never())?.capture ?? never();
    lines.push({
      ...{ type: 'event', kind: 'strike', t: T0 + 2_199_500, unit: 'u1', by: 'touch' },
      ...{ from: capture.from, to: capture.to, text: 'door open' },
    });
    const content = reportOf(visitOf(lines), 'si');
    expect(texts(content)).toContain('steady, automatic.');
    expect(tableWith(content, 'Latent').at(-1)?.[1]).toContain('Struck out: door open.');
  });

  it('says so where nothing was captured, or set up', () => {
    const early = visitLines().filter((line) => !('t' in line) || (line.t ?? 0) < T0 + 100_000);
    expect(texts(reportOf(visitOf(early), 'si'))).toContain('Nothing was captured for this unit.');
    expect(texts(reportOf(visitOf([]), 'si'))).toContain('No unit was set up in this visit');
  });

  it('goes over to the new time where the clock was set', () => {
    const lines = visitLines();
    const shiftMs = 3_600_000;
    lines.push({ type: 'event', kind: 'clock', t: T0 + 2_200_000 + shiftMs, shiftMs });
    const [, , made] = visitOf(lines).units['u1']?.captures ?? [];
    expect(made?.capture.to).toBe(T0 + 1000 * (TOUCHED_S - 1) + shiftMs);
    expect(made?.verdict?.to).toBe(made?.capture.to);
    expect(all(reportOf(visitOf(lines), 'si'), 'air')).toHaveLength(1);
  });
});

function never(): never {
  throw new Error('it is not there');
}
