/** What a person says of a capture: a note and photos, told with it again, whatever becomes of it. */
import { describe, expect, test } from 'vitest';
import type { RemarkEvent } from '../../adapters/contract.ts';
import type { Capture } from '../../server/protocol.ts';
import { MOST_PHOTO_BYTES, piecesOf } from '../../server/visit-log/photo-pieces.ts';
import { PacedVisit, T0 } from './visit.ts';

const id = (n: number): string => n.toString(16).padStart(32, '0');

class Visit extends PacedVisit {
  get t(): number {
    return T0 + this.s * 1000;
  }
  first(): Capture {
    const [capture] = this.captures;
    if (capture === undefined) throw new Error('there is no capture');
    return capture;
  }
  remark(more: Partial<RemarkEvent>): string | null {
    const { unit, from, by } = this.first();
    return this.take({ type: 'event', kind: 'remark', t: this.t, unit, from, by, ...more });
  }
  photo(n: number, bytes = 20_000): void {
    for (const piece of piecesOf(id(n), new Uint8Array(bytes))) expect(this.take(piece)).toBeNull();
  }
}
function captured(): Visit {
  const visit = new Visit();
  visit.steady(12, 150);
  return visit;
}

describe('a note', () => {
  test('is told with the capture, changed, and taken away by an empty one', () => {
    const visit = captured();
    const before = visit.first();
    expect(visit.remark({ text: 'filter washed' })).toBeNull();
    expect(visit.first()).toEqual({ ...before, note: 'filter washed' });
    expect(visit.remark({ text: 'filter new' })).toBeNull();
    expect(visit.first().note).toBe('filter new');
    expect(visit.remark({ text: '' })).toBeNull();
    expect(visit.first()).toEqual(before);
    expect(visit.events).toEqual([]); // it is no event of the unit
  });

  test('stays while the capture grows, is struck, or its clock is set', () => {
    const visit = captured();
    visit.remark({ text: 'filter washed' });
    const { to } = visit.first();
    visit.go(90, 12);
    expect(visit.first().to).toBeGreaterThan(to);
    expect(visit.first().note).toBe('filter washed');
    const { unit, from, by } = visit.first();
    visit.take({ type: 'event', kind: 'strike', t: visit.t, unit, from, by });
    expect(visit.first()).toMatchObject({ note: 'filter washed', struck: {} });
    visit.take({ type: 'event', kind: 'clock', t: visit.t + 3_600_000, shiftMs: 3_600_000 });
    expect(
      visit.remark({ from: from + 3_600_000, text: 'door open', t: visit.t + 3_600_000 }),
    ).toBeNull();
    expect(visit.captures.at(-1)).toMatchObject({ note: 'door open', struck: {} });
  });
});

describe('a photo', () => {
  test('is put to the capture once all of it is there, and taken off again', () => {
    const visit = captured();
    visit.photo(1);
    visit.photo(2, 9000);
    expect(visit.remark({ photo: id(1) })).toBeNull();
    expect(visit.remark({ photo: id(2), text: 'the outlet' })).toBeNull();
    expect(visit.first()).toMatchObject({
      note: 'the outlet',
      photos: [
        { id: id(1), bytes: 20_000 },
        { id: id(2), bytes: 9000 },
      ],
    });
    expect(visit.remark({ photo: id(1) })).toMatch(/^photo: this photo is on this capture already/);
    expect(visit.remark({ photo: id(1), off: true })).toBeNull();
    expect(visit.first().photos).toEqual([{ id: id(2), bytes: 9000 }]);
    expect(visit.remark({ photo: id(1), off: true })).toMatch(/^photo: .* is not on this capture/);
    expect(visit.remark({ photo: id(2), off: true })).toBeNull();
    expect(visit.first()).not.toHaveProperty('photos');
    expect(visit.remark({ photo: id(1) })).toBeNull(); // it is in the record still
  });

  test('of which pieces are missing is refused, and one that is not there', () => {
    const visit = captured();
    const pieces = piecesOf(id(1), new Uint8Array(MOST_PHOTO_BYTES));
    expect(pieces).toHaveLength(28);
    for (const piece of pieces.slice(0, -1)) expect(visit.take(piece)).toBeNull();
    expect(visit.remark({ photo: id(1) })).toMatch(/^photo: .* pieces of it are missing/);
    expect(visit.remark({ photo: id(2) })).toMatch(/^photo: .* is not in this visit/);
    // It comes again from its beginning.
    visit.photo(1);
    expect(visit.remark({ photo: id(1) })).toBeNull();
  });

  test('whose pieces come in another order, or twice, is refused by its field', () => {
    const visit = captured();
    const [first, second, third] = piecesOf(id(1), new Uint8Array(20_000));
    if (first === undefined || second === undefined || third === undefined) throw new Error('few');
    expect(visit.take(second)).toMatch(/^part: 1 of 3 does not follow/);
    expect(visit.take(first)).toBeNull();
    expect(visit.take(third)).toMatch(/^part: 2 of 3 does not follow/);
    expect(visit.take({ ...second, of: 2 })).toMatch(/^part: 1 of 2 does not follow/);
    expect(visit.take(second)).toBeNull();
    expect(visit.take(third)).toBeNull();
    expect(visit.take(first)).toMatch(/^id: the photo .* is there already/);
  });

  test('one too many is refused: four of a capture, sixty of a visit', () => {
    const visit = captured();
    for (let n = 0; n < 60; n++) visit.photo(n, 10);
    const [piece] = piecesOf(id(60), new Uint8Array(10));
    if (piece === undefined) throw new Error('no piece');
    expect(visit.take(piece)).toMatch(/^photo: it would be one too many: a visit has at most 60/);
    for (let n = 0; n < 4; n++) expect(visit.remark({ photo: id(n) })).toBeNull();
    expect(visit.remark({ photo: id(4) })).toMatch(/^photo: .* a capture has at most 4 photos/);
    expect(visit.session.whyNoPhoto(visit.first())).toMatch(/^photo: .* at most 4 photos/);
    visit.remark({ photo: id(0), off: true });
    expect(visit.session.whyNoPhoto(visit.first())).toMatch(/^photo: .* at most 60 photos/);
    expect(visit.session.whyNoPhoto(visit.first(), id(5))).toBeNull();
  });
});

test('one that says nothing, or of no capture, is refused by its field', () => {
  const visit = captured();
  expect(visit.remark({})).toMatch(/^text: is missing, and so is photo/);
  expect(visit.remark({ unit: 'u9', text: 'x' })).toMatch(/^unit: .*no unit "u9"/);
  expect(visit.remark({ from: 1, text: 'x' })).toMatch(/^from: no capture of "u1" by itself/);
  expect(visit.first()).not.toHaveProperty('note');
});
