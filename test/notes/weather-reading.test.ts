import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { degreeDaysByAverage, degreeDaysBySine } from '../../src/notes/degree-days.ts'
import { readWeather, sortIn } from '../../src/notes/read-weather.ts'
import { type WeatherDay, weatherBetween } from '../../src/notes/weather-sums.ts'
import { addDays, type IsoDate } from '../../src/quantities/dates.ts'
import { readSeparated } from '../../src/quantities/separated.ts'

const today = '2026-07-01'

/** The area over the base under a sine between the extremes, added up in 200 000 slices: nothing of the closed form. */
function slices(minimum: number, maximum: number, base: number): number {
  const n = 200_000
  let sum = 0
  for (let i = 0; i < n; i++) {
    const at = (maximum + minimum) / 2 + ((maximum - minimum) / 2) * Math.sin((2 * Math.PI * (i + 0.5)) / n)
    sum += Math.max(0, at - base)
  }
  return sum / n
}

describe('degree days of a day', () => {
  // Worked by hand; a mean of 12 over a base of 10, and one under it.
  it('by the average are the mean less the base, and none where the mean is colder', () => {
    expect(degreeDaysByAverage({ minimum: 6, maximum: 18 }, 10)).toBe(2)
    expect(degreeDaysByAverage({ minimum: 2, maximum: 16 }, 10)).toBe(0)
  })

  // 7 to 14 degrees over 12 stand in the tests of TrenchR (R, on CRAN) as 0.47, to two decimals: its double sine, which for
  // a day followed by the same minimum is the single sine.
  it('by the sine are 0.47 for 7 to 14 degrees over a base of 12, as TrenchR gives them', () => {
    expect(degreeDaysBySine({ minimum: 7, maximum: 14 }, 12).toFixed(2)).toBe('0.47')
  })

  it('by the sine agree with the sine added up slice by slice', () => {
    const cases = [
      [7, 14, 12],
      [2, 16, 10],
      [-4, 9, 5],
      [9.9, 10.1, 10],
      [12, 25, 10],
      [0, 8, 10],
      [10, 10, 8],
    ] as const
    for (const [minimum, maximum, base] of cases) {
      expect(degreeDaysBySine({ minimum, maximum }, base)).toBeCloseTo(slices(minimum, maximum, base), 5)
    }
  })

  it('by the sine are never fewer than by the average, and the same where the whole day is over the base', () => {
    const degrees = fc.integer({ min: -200, max: 450 }).map((tenths) => tenths / 10)
    fc.assert(
      fc.property(degrees, degrees, fc.integer({ min: 0, max: 15 }), (one, other, base) => {
        const day = { minimum: Math.min(one, other), maximum: Math.max(one, other) }
        const [sine, average] = [degreeDaysBySine(day, base), degreeDaysByAverage(day, base)]
        expect(sine).toBeGreaterThanOrEqual(average - 1e-9)
        if (day.minimum >= base) expect(sine).toBeCloseTo(average, 9)
      }),
    )
  })
})

describe('a station’s file', () => {
  it('is read by the names of its columns, in any order, with commas, semicolons or tabs', () => {
    const day = { day: '2026-01-05', minimumTenthsC: 93, maximumTenthsC: 214, rainTenthsMm: 12 } as const
    const files = [
      'Date,Tmin (°C),Tmax (°C),Rain (mm)\n2026-01-05,9.3,21.4,1.2\n',
      'rain;day;humidity;maximum;minimum\r\n1,2;2026-01-05;88;21,4;9,3\r\n',
      '\uFEFFDay\tPRCP\tTMAX\tTMIN\n2026-01-05\t1.2\t21.4\t9.3',
    ]
    for (const file of files) expect(readWeather(file, today)).toMatchObject({ days: [day], wrong: [], refused: null })
    expect(readWeather(files[1] ?? '', today)).toMatchObject({ leftOut: ['humidity'], columns: { rain: 'rain' } })
  })

  it('says of each wrong line which field, what stood there and why, and keeps the others', () => {
    const file = [
      'day,min,max,rain',
      '2026-01-05,9.3,21.4,1.2',
      '2026-02-30,9,21,0',
      '2026-01-05,9.3,21.4,1.2',
      '2026-01-06,warm,21,0',
      '2026-01-07,22,21,0',
      '2026-01-08,9,21,-1',
      '2026-01-09,9,99,0',
      '2027-01-01,9,21,0',
      '2026-01-10,,,',
      '2026-01-11,-2,,0',
    ].join('\n')
    const found = readWeather(file, today)
    expect(found.wrong.map(({ line, field, typed, why }) => [line, field, typed, why])).toEqual([
      [3, 'day', '2026-02-30', 'no such day'],
      [4, 'day', '2026-01-05', 'twice'],
      [5, 'minimum', 'warm', 'not a number'],
      [6, 'minimum', '22', 'minimum over maximum'],
      [7, 'rain', '-1', 'out of range'],
      [8, 'maximum', '99', 'out of range'],
      [9, 'day', '2027-01-01', 'still to come'],
      [10, 'day', '2026-01-10', 'nothing'],
    ])
    expect(found.days.map((one) => one.day)).toEqual(['2026-01-05', '2026-01-11'])
    expect(found.days[1]).toEqual({
      day: '2026-01-11',
      minimumTenthsC: -20,
      maximumTenthsC: null,
      rainTenthsMm: 0,
    })
  })

  it('without a day, without figures or without lines is refused as a whole', () => {
    expect(
      ['', 'day,min', 'when,min\n2026-01-05,3', 'day,wind\n2026-01-05,3'].map(
        (text) => readWeather(text, today).refused,
      ),
    ).toEqual([...['empty', 'empty', 'no day', 'no figures']])
  })

  it('adds what is new, and says what stands already with the same or with other figures', () => {
    const day = (name: IsoDate, rainTenthsMm: number): WeatherDay => ({
      ...{ day: name, minimumTenthsC: 90, maximumTenthsC: 200, rainTenthsMm },
    })
    const standing = new Map([day('2026-01-05', 0), day('2026-01-06', 0)].map((one) => [one.day, one]))
    expect(sortIn([day('2026-01-05', 0), day('2026-01-06', 7), day('2026-01-07', 0)], standing)).toEqual({
      fresh: [day('2026-01-07', 0)],
      same: 1,
      different: ['2026-01-06'],
    })
  })

  it('may quote its cells, also over lines', () => {
    expect(readSeparated('a,"b, ""c"""\n"d\ne",f\n\ng,h').lines).toEqual([
      { line: 1, cells: ['a', 'b, "c"'] },
      { line: 2, cells: ['d\ne', 'f'] },
      { line: 5, cells: ['g', 'h'] },
    ])
  })
})

it('rain and warmth between two days count both, and say of how many days they are known', () => {
  const days: WeatherDay[] = [
    { day: '2026-01-05', minimumTenthsC: 60, maximumTenthsC: 180, rainTenthsMm: 12 },
    { day: '2026-01-06', minimumTenthsC: null, maximumTenthsC: 250, rainTenthsMm: 0 },
    { day: '2026-01-08', minimumTenthsC: 120, maximumTenthsC: 240, rainTenthsMm: null },
    { day: '2026-01-09', minimumTenthsC: 120, maximumTenthsC: 240, rainTenthsMm: 99 },
  ]
  // (6 + 18) / 2 - 10 = 2 and (12 + 24) / 2 - 10 = 8: 10 degree days of 2 days; the 7th is not there.
  expect(weatherBetween(days, '2026-01-05', '2026-01-08', 10)).toEqual({
    ...{ days: 4, rainTenthsMm: 12, rainDays: 1, rainKnown: 2, warmthKnown: 2, byAverage: 10 },
    bySine: expect.closeTo(8 + slices(6, 18, 10), 5),
  })
  expect(weatherBetween(days, '2026-01-08', '2026-01-05', 10).days).toBe(0)
})

it('looks at the days that the station has and not at the calendar, and of many only at those asked for', () => {
  const day = (i: number) => addDays('2020-01-01', i)
  const days = Array.from({ length: 4096 }, (_, i) => ({
    ...{ day: day(i), minimumTenthsC: 60, maximumTenthsC: 180, rainTenthsMm: 1 },
  }))
  const asked = (of: readonly WeatherDay[], from: IsoDate, to: IsoDate) => {
    let looks = 0
    const counting = new Proxy(of, {
      get: (target, key) => {
        if (/^\d+$/.test(String(key))) looks += 1
        return Reflect.get(target, key)
      },
    })
    return { sums: weatherBetween(counting, from, to, 10), looks: () => looks }
  }
  const long = asked(days.slice(0, 10), '1900-01-01', '2199-12-31')
  expect([long.sums.days, long.sums.rainKnown]).toEqual([109_573, 10])
  expect(long.looks()).toBeLessThan(30)
  const short = asked(days, day(2000), day(2009))
  expect([short.sums.days, short.sums.rainKnown, short.sums.rainTenthsMm]).toEqual([10, 10, 10])
  expect(short.looks()).toBeLessThan(40)
})
