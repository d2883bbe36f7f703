import { expect, it } from 'vitest'
import {
  type PlantingKnown,
  type PlantingTyped,
  plantingCorrected,
} from '../../src/setting-right/planting-corrected.ts'
import { aDay } from '../support/calendar.ts'

const stands = {
  ...{ how: 'direct', sownOn: aDay('2026-04-01'), plantedOn: null, clearedOn: null },
  ...{ seasonId: '2026', cultivarId: 'Kestrel', bedId: 'bed 1', matchedSetId: 'carrots' },
}
const known: PlantingKnown = {
  ...{ today: '2026-10-01', stands, matchedWith: 1, sealed: false },
  seasons: new Map([
    ['2026', { startsOn: '2026-01-01', endsOn: '2026-12-31' }],
    ['2027', { startsOn: '2027-01-01', endsOn: '2027-12-31' }],
    ['2025', { startsOn: '2025-01-01', endsOn: '2025-12-31' }],
  ]),
  written: { first: '2026-07-01', last: '2026-09-01' },
  sets: [
    { id: 'carrots', cultivarId: 'Kestrel', windowFrom: '2026-04-01', windowTo: '2026-04-01' },
    { id: 'parsnips', cultivarId: 'Fen', windowFrom: '2026-03-25', windowTo: '2026-04-05' },
    { id: 'late parsnips', cultivarId: 'Fen', windowFrom: '2026-05-01', windowTo: '2026-05-01' },
  ],
  gardenOfBed: new Map([
    ['bed 1', 'terrace'],
    ['bed 2', 'bank'],
  ]),
}
const typed = (over: Partial<PlantingTyped>): PlantingTyped => ({ ...stands, together: null, ...over })

it.each([
  ['nothing changed', {}, { matchedSetId: 'carrots', setRenamed: null, movedTo: null }],
  ['out of its set', { matchedSetId: null }, { matchedSetId: null, setRenamed: null, movedTo: null }],
  [
    'another bed',
    { bedId: 'bed 2' },
    { matchedSetId: 'carrots', setRenamed: null, movedTo: { gardenId: 'bank', bedId: 'bed 2' } },
  ],
  [
    'all of the set were of another cultivar',
    { cultivarId: 'Fen', together: 'together' },
    { matchedSetId: 'carrots', setRenamed: 'carrots', movedTo: null },
  ],
  [
    'this one alone was, and a set of that cultivar was sown in the same window',
    { cultivarId: 'Fen', together: 'alone' },
    { matchedSetId: 'parsnips', setRenamed: null, movedTo: null },
  ],
  [
    'this one alone was, and no set of that cultivar is there',
    { cultivarId: 'Osprey', together: 'alone' },
    { matchedSetId: null, setRenamed: null, movedTo: null },
  ],
  [
    'all of the set count toward the season in which they are picked',
    { seasonId: '2027', together: 'together' },
    { matchedSetId: 'carrots', setRenamed: null, setMoved: 'carrots', movedTo: null },
  ],
  [
    'this one alone does, and leaves its set',
    { seasonId: '2027', together: 'alone' },
    { matchedSetId: null, setRenamed: null, movedTo: null },
  ],
] as const)('is taken: %s', (_what, over, answer) => {
  expect(plantingCorrected(known, typed(over))).toEqual({ kind: 'answer', setMoved: null, ...answer })
})

it.each([
  ['a bed that is not there', {}, { bedId: 'bed 9' }, 'bedId', 'notChosen'],
  ['a move while a crate waits under a label', { sealed: true }, { bedId: 'bed 2' }, 'bedId', 'sealed'],
  ['a new cultivar of a matched one, nothing said of the others', {}, { cultivarId: 'Fen' }, 'together', 'whichOfSet'],
  ['another season of a matched one, nothing said of the others', {}, { seasonId: '2027' }, 'together', 'whichOfSet'],
  ['a season that was over before it was sown', {}, { seasonId: '2025', together: 'alone' }, 'sownOn', 'dayOutside'],
  ['a season that is not there', {}, { seasonId: '2019' }, 'seasonId', 'notChosen'],
  ['cleared tomorrow', {}, { clearedOn: '2026-10-02' }, 'clearedOn', 'ahead'],
  ['cleared before the last weight', {}, { clearedOn: '2026-08-31' }, 'clearedOn', 'writtenLater'],
  ['sown after the first weight', {}, { sownOn: '2026-07-02' }, 'sownOn', 'writtenEarlier'],
  ['sown after its season', { written: { first: null, last: null } }, { sownOn: '2027-01-01' }, 'sownOn', 'dayOutside'],
] as const)('is not taken: %s', (_what, more, over, field, code) => {
  expect(plantingCorrected({ ...known, ...more }, typed(over))).toEqual({ kind: 'refused', field, code })
})
