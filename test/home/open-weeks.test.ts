import { expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { type HomeRows, homePage } from '../../src/home/home.page.ts'

const season = {
  ...{ id: 'a', name: '2026', startsOn: '2026-03-02', endsOn: '2026-06-28' },
  ...{ closed: false, changedSince: 0, sealed: 0 },
} as const
const names = ['Lower Terrace', 'Long Bank', 'Hay Meadow']
const gardens = names.map((name) => ({ id: name, name, areas: [], siteId: 's' }))
const assignments = names.map((gardenId) => ({
  ...{ seasonId: 'a', gardenId, bedId: null, methodId: 'm', how: 'choice', phase: 'established', yearOfMethod: 1 },
}))
const record = {
  ...{ seasons: [season], methods: [], gardens, beds: [], assignments, plantings: [], losses: [] },
  ...{ labour: [], spreadings: [], closings: [] },
} as unknown as TrialRecord
const rows: HomeRows = {
  ...{ record, methods: [], deliveries: [], due: [], questions: [], last: [], names: new Map() },
  today: '2026-03-10',
}
const openIn = (closings: TrialRecord['closings']) =>
  homePage({ ...rows, record: { ...record, closings } }, '/g/a', 'en').waiting.map((one) => [
    one.code,
    'gardens' in one ? one.gardens : '',
  ])

it('a week that is open everywhere, in hours and weights, is one line that names no garden', () => {
  expect(openIn([])).toEqual([['weights and hours', null]])
})

it('where they are open in different gardens each has its line and its gardens', () => {
  const closed = { isoWeek: '2026-W10', what: 'weights', gardenId: 'Long Bank' } as const
  expect(openIn([closed])).toEqual([
    ['hours', null],
    ['weights', 'Lower Terrace, Hay Meadow'],
  ])
  expect(openIn([closed, { ...closed, what: 'hours' }])).toEqual([['weights and hours', 'Lower Terrace, Hay Meadow']])
})
