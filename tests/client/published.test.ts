/** What a maker publishes, as it is pasted or typed. The figures are invented; the layouts are those of print. */
import { describe, expect, it } from 'vitest';
import { publishedText, readPublished, usualLines } from '../../client/words/published.ts';
import { scalesFor } from '../../client/words/scales.ts';

const SI = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const US = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });

describe('published figures', () => {
  it('a table from a spreadsheet: outdoors across, wet bulb down', () => {
    const text = '\t25\t30\t35\n16\t3.6\t3.4\t3.2\n19\t3.9\t3.7\t3.5\n';
    const read = readPublished(text, 'cooling', 'maximum', SI);
    expect(read).toMatchObject({ layout: 'table', thousands: false });
    expect(read.points).toHaveLength(6);
    expect(read.points?.[5]).toEqual({
      ...{ speed: 'maximum', outdoorC: 35, indoorC: 26.67, indoorWetBulbC: 19, totalW: 3500 },
    });
  });

  it('pairs of dry and wet bulb, °F, thousands of Btu/h, cells that are blank', () => {
    const text = 'DB/WB;75°F;95°F\n75/63;12.4;11.2\n80/67;13.1;—\n';
    const read = readPublished(text, 'cooling', 'rated', US);
    expect(read).toMatchObject({ thousands: true });
    expect(read.points).toHaveLength(3);
    const [first] = read.points ?? [];
    expect(first?.outdoorC).toBeCloseTo(23.889, 3);
    expect(first?.indoorC).toBeCloseTo(23.889, 3);
    expect(first?.indoorWetBulbC).toBeCloseTo(17.222, 3);
    // 1 Btu/h is 0.293071 W.
    expect(first?.totalW).toBeCloseTo(12_400 * 0.29307107, 2);
  });

  it('a line for each figure, with what it is', () => {
    const read = readPublished(
      'minimum -7 20 1,2\nrated 7 20 4.0 980\nmax 7 20 5.1',
      'heating',
      'rated',
      SI,
    );
    expect(read.points).toEqual([
      { speed: 'minimum', outdoorC: -7, indoorC: 20, totalW: 1200 },
      { speed: 'rated', outdoorC: 7, indoorC: 20, totalW: 4000, powerW: 980 },
      { speed: 'maximum', outdoorC: 7, indoorC: 20, totalW: 5100 },
    ]);
  });

  it.each(['mínimo', 'mínima', 'min', 'nominal', 'máximo', 'maxima', 'máx'])(
    'what a figure is may be said in Spanish: %s',
    (word) => {
      const read = readPublished(`${word} 7 20 4\nnominal 2 20 3`, 'heating', 'rated', SI);
      const [first] = read.points ?? [];
      const speed = /^m[ií]n/.test(word) ? 'minimum' : 'maximum';
      expect(first?.speed).toBe(word === 'nominal' ? 'rated' : speed);
    },
  );

  it('the usual points are filled in; those that stay empty do not count', () => {
    const text = usualLines('cooling', US).replace('rated 95 80/67 ', 'rated 95 80/67 12000');
    const read = readPublished(text, 'cooling', 'rated', US);
    expect(read.points).toHaveLength(1);
    expect(readPublished(usualLines('heating', SI), 'heating', 'rated', SI)).toEqual({
      points: null,
      refusal: 'The figures: there is no capacity among them.',
    });
  });

  it('comes back as it was entered', () => {
    for (const scales of [SI, US]) {
      const points = readPublished(
        'rated 35 27/19 3.5\nmax 30 27/18 4',
        'cooling',
        'rated',
        SI,
      ).points;
      const again = readPublished(
        publishedText(points ?? [], 'cooling', scales),
        'cooling',
        'rated',
        scales,
      ).points;
      expect(again).toHaveLength(2);
      for (const [i, point] of (points ?? []).entries()) {
        expect(again?.[i]?.totalW).toBeCloseTo(point.totalW, -1);
        expect(again?.[i]?.outdoorC).toBeCloseTo(point.outdoorC, 1);
      }
    }
  });

  it.each([
    ['', 'nothing is entered'],
    ['\t25\tx\n16\t3\t4', 'line 1, column 3: “x” is not an outdoor temperature'],
    ['\t25\t35\nlow\t3\t4', 'line 2, column 1: “low” is not an indoor temperature'],
    ['\t25\t35\n16\t3\tn.b.', 'line 2, column 3: “n.b.” is not a capacity'],
    ['\t25\t35\n16\t3\t4\t5', 'line 2: there are 3 capacities for 2 outdoor temperatures'],
    ['rated 35 27/19', 'there is no capacity'],
    ['min 35 27/19 1.2', 'all are minimum outputs'],
    ['rated 35 27/19 3.5 980 9', 'line 1: “rated 35 27/19 3.5 980 9” is not'],
    ['rated 35 27/19 3.5 W', 'line 1: “rated 35 27/19 3.5 W” is not'],
    ['rated 35 27/19 3500', 'line 1: a capacity cannot be 3500. Enter it in kW.'],
  ])('%j is refused with the cell', (text, why) => {
    const read = readPublished(text, 'cooling', 'rated', SI);
    expect(read.points).toBeNull();
    expect('refusal' in read && read.refusal).toContain(why);
  });
});
