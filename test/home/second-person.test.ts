import { expect, it } from 'vitest'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import { homePage } from '../../src/home/home.page.ts'
import { addDays, type IsoDate } from '../../src/quantities/dates.ts'
import { mondayOf } from '../../src/quantities/iso-week.ts'

it('Home asks for a second person in the weeks that were drawn, and in none beside them', () => {
  const season = { id: 'a', name: '2025/26', startsOn: '2025-08-01', endsOn: '2026-05-31', closedAt: null }
  const nothing = { sites: [], methods: [], gardens: [], beds: [], assignments: [], plantings: [], closings: [] }
  const on = (today: IsoDate) => homePage({ ...nothing, today, seasons: [season], people: 1 }, '/g/a', []).secondWeek
  const [week, later] = secondWeeksOf(season)
  if (!week || !later) throw new Error('no week was drawn')
  const monday = mondayOf(week)
  expect(on(monday)).toEqual({ week, href: `/g/a/weeks/${week}#weights` })
  expect(on(addDays(monday, 6))).toEqual(on(monday))
  expect(on(addDays(monday, -1))).toBeNull()
  expect(on(mondayOf(later))?.week).toBe(later)
})
