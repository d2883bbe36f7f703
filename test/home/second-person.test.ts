import { expect, it } from 'vitest'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import { type HomeRows, homePage } from '../../src/home/home.page.ts'
import { addDays, type IsoDate } from '../../src/quantities/dates.ts'
import { mondayOf, weekNumber } from '../../src/quantities/iso-week.ts'

const season = {
  id: 'a',
  name: '2025/26',
  startsOn: '2025-08-01',
  endsOn: '2026-05-31',
  closed: false,
  changedSince: 0,
  sealed: 0,
} as const
const nothing: HomeRows = {
  record: {
    ...{ seasons: [season], methods: [], gardens: [], beds: [], assignments: [], plantings: [], losses: [] },
    ...{ labour: [], spreadings: [], closings: [] },
  },
  ...{ methods: [], deliveries: [], due: [], questions: [], last: [], names: new Map() },
  today: '2025-08-01',
}

it('Home asks for a second person in the weeks that were drawn, and in none beside them', () => {
  const on = (today: IsoDate) =>
    homePage({ ...nothing, today }, '/g/a', 'en').waiting.find((one) => one.code === 'second week') ?? null
  const [week, later] = secondWeeksOf(season)
  if (!week || !later) throw new Error('no week was drawn')
  const monday = mondayOf(week)
  expect(on(monday)).toEqual({ code: 'second week', week: weekNumber(week), href: `/g/a/weeks/${week}#weights` })
  expect(on(addDays(monday, 6))).toEqual(on(monday))
  expect(on(addDays(monday, -1))).toBeNull()
  expect(on(mondayOf(later))).toMatchObject({ week: weekNumber(later) })
})
