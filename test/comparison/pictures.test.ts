import { describe, expect, it } from 'vitest'
import type { Picture } from '../../src/comparison/pictures/picture.ts'
import {
  cropRatiosPicture,
  everyWayPicture,
  gapPicture,
  seasonRatiosPicture,
  yieldsPicture,
} from '../../src/comparison/pictures/pictures.page.ts'
import {
  labourPictures,
  lossesPicture,
  runningLabourPicture,
  soilPicture,
} from '../../src/comparison/pictures/season-pictures.page.ts'
import { splitGap } from '../../src/statistics/split-gap.ts'
import { expectSound } from '../drawing/sound.ts'

const told = { id: 'picture', locale: 'en-NZ' }
const pair = { methodA: 'dug', methodB: 'mulch' }
const said = (picture: Picture) => picture.drawing.texts.map((text) => text.text)
const pegs = (picture: Picture) => picture.drawing.lines.filter((line) => line.look === 'peg')

describe('yield by method', () => {
  it('says each figure with its interval, or why it has none', () => {
    const picture = yieldsPicture(
      [
        { method: 'dug', value: 3.118, low: 2.605, high: 3.631 },
        { method: 'hay', value: 2.4, noInterval: 'one season: none' },
        { method: 'clover', value: null },
        { method: 'fork', value: 2, low: 1, high: Number.POSITIVE_INFINITY },
      ],
      told,
    )
    expect(said(picture)).toEqual(
      expect.arrayContaining([
        '3.12 (2.61 to 3.63)',
        '2.40 (one season: none)',
        'not known',
        '2.00 (1.00 to any above)',
      ]),
    )
    expect(pegs(picture)).toHaveLength(3)
    expect(picture.table.rows[1]).toEqual(['hay', '2.40', '–', '–'])
  })

  it("is written in the group's locale", () => {
    const picture = yieldsPicture([{ method: 'dug', value: 3.118 }], { ...told, locale: 'de-DE' })
    expect(picture.table.rows).toEqual([['dug', '3,12']])
    expect(said(picture)).toContain('3,12 (kein Intervall)')
  })
})

describe('ratios of two methods', () => {
  it('stand crop by crop beside 1, the pooled one last and heavy', () => {
    const picture = cropRatiosPicture(
      { ...pair, crops: [{ crop: 'Leeks', ratio: 1.3 }], pooled: { value: 1.2, low: 0.9, high: 1.6 } },
      told,
    )
    expect(picture.table.rows).toEqual([
      ['Leeks', '1.30', '–', '–'],
      ['All of these, in the same mix', '1.20', '0.90', '1.60'],
    ])
    expect(picture.drawing.lines.filter((line) => line.look === 'heavy-span')).toHaveLength(1)
    expect(picture.drawing.lines.filter((line) => line.look === 'reference')).toHaveLength(2)
  })

  it('stand by size, one without a ratio last', () => {
    const crops = [
      { crop: 'Beans', ratio: 0.9 },
      { crop: 'Kale', ratio: null },
      { crop: 'Leeks', ratio: 1.3 },
    ]
    const { table } = cropRatiosPicture({ ...pair, crops, pooled: null }, told)
    expect(table.rows.map(([crop]) => crop)).toEqual(['Leeks', 'Beans', 'Kale'])
  })

  it('over one season have no interval, and say so', () => {
    const picture = seasonRatiosPicture(
      { ...pair, seasons: [{ season: '2026/27', ratio: 1.2 }], pooled: { value: 1.2 }, next: null },
      told,
    )
    expect(said(picture)).toContain('1.20 (one season: none)')
    expect(picture.drawing.lines.filter((line) => line.look.endsWith('span'))).toEqual([])
  })

  it('counted in every way stand in the order of the ratio, without one last', () => {
    const ways = [
      { way: 'plain', ratio: 1.2, first: true },
      { way: 'none', ratio: null },
      { way: 'all weight', ratio: 0.9 },
    ]
    const picture = everyWayPicture({ ...pair, ways }, told)
    expect(picture.table.rows.map((row) => row[0])).toEqual(['all weight', 'plain', 'none'])
    expect(picture.drawing.texts.find((text) => text.text === 'plain')?.look).toBe('strong')
  })
})

describe('why two methods differ', () => {
  const gap = splitGap(
    {
      bedArea: 100,
      crops: [
        { key: 'Leeks', plantedArea: 40, kg: 120 },
        { key: 'Beans', plantedArea: 40, kg: 40 },
      ],
    },
    {
      bedArea: 100,
      crops: [
        { key: 'Leeks', plantedArea: 60, kg: 210 },
        { key: 'Squash', plantedArea: 30, kg: 90 },
      ],
    },
  )
  if (gap.kind !== 'answer') throw new Error('refused')
  const total = { ...gap, onlyA: -gap.onlyA }

  it('is drawn so that the parts end where the gap is', () => {
    const picture = gapPicture({ ...pair, total, crops: gap.byKey.map((one) => ({ ...one, crop: one.key })) }, told)
    // By hand: 3.00 kg per m2 of bed against 1.60.
    expect(picture.table.rows.at(-1)?.at(-1)).toBe('+1.40')
    const zero = picture.drawing.lines.find((line) => line.look === 'axis')?.x1 ?? 0
    const growth = picture.drawing.rects.find((rect) => rect.fill === 3)
    const sum = (pegs(picture)[0]?.x1 ?? 0) - zero
    expect((growth?.width ?? 0) / sum).toBeCloseTo(gap.growth / 1.4, 1)
  })

  it('with a part not known has no sum', () => {
    const picture = gapPicture({ ...pair, total: { ...total, mix: null }, crops: [] }, told)
    expect(picture.table.rows.at(-1)?.at(-1)).toBe('not known')
  })

  it('of methods that do not differ is drawn as nothing', () => {
    const none = { intensity: 0, mix: 0, growth: 0, onlyB: 0, onlyA: 0 }
    const picture = gapPicture({ ...pair, total: none, crops: [{ crop: 'Leeks', ...none }] }, told)
    expect(picture.drawing.rects).toEqual([])
    expectSound(picture.drawing)
  })
})

describe('labour through the season', () => {
  const weeks = ['2026-W31', '2026-W32', '2026-W33', '2026-W34'] as const

  it('has a gap in an open week, in the picture and in the table', () => {
    const groups = [
      { group: 'tending' as const, minutes: [60, null, 120, 0] },
      { group: 'harvest' as const, minutes: [0, null, 0, 0] },
    ]
    const [picture] = labourPictures([{ method: 'mulch', weeks, groups }], told)
    if (!picture) throw new Error('no picture')
    expect(picture.drawing.areas).toHaveLength(2)
    expect(picture.table.rows).toEqual([
      ['2026-W31', '1.0'],
      ['2026-W32', 'not known'],
      ['2026-W33', '2.0'],
      ['2026-W34', '0.0'],
      ['Together', '3.0'],
    ])
    expect(said(picture)).toContain('3.0 h')
  })

  it('of several methods is drawn on one scale', () => {
    const of = (minutes: number) => ({
      method: 'm',
      weeks,
      groups: [{ group: 'tending' as const, minutes: [minutes] }],
    })
    const [short, long] = labourPictures([of(60), of(600)], told)
    const ticks = (picture?: Picture) =>
      picture?.drawing.texts.filter((text) => text.look === 'tick').map((t) => t.text)
    expect(ticks(short)).toEqual(ticks(long))
    const width = (picture?: Picture) => picture?.drawing.rects[0]?.width ?? 0
    expect(width(long) / width(short)).toBeCloseTo(10, 1)
    expect([short?.id, long?.id]).toEqual(['picture-1', 'picture-2'])
  })

  it('names the week in which one method has taken more in all than the other', () => {
    const methods = [
      { method: 'dug', hours: [1, 3, 3, 3] },
      { method: 'mulch', hours: [5, 1, 0, 0] },
    ]
    const picture = runningLabourPicture({ weeks, methods, perArea: false }, told)
    expect(said(picture).join(' ')).toContain('a From week 2026-W33 on, dug has taken more hours in all than mulch.')
    expect(picture.table.rows.at(-1)).toEqual(['2026-W34', '10.0', '6.0'])
  })

  it('says how many weeks it looked at where none is found', () => {
    const methods = [
      { method: 'dug', hours: [1, 1, null, 1] },
      { method: 'mulch', hours: [5, 1, 0, 0] },
    ]
    const picture = runningLabourPicture({ weeks, methods, perArea: true }, told)
    expect(picture.how).toContain('In the first 2 of 4 weeks no line crosses')
    expect(picture.drawing.paths.filter((path) => !path.sure)).toHaveLength(0)
  })
})

describe('losses by cause', () => {
  it('tell none from not known', () => {
    const picture = lossesPicture(
      { in: 'count', methods: ['dug', 'mulch'], causes: [{ cause: 'Slugs', values: [0, null] }] },
      told,
    )
    expect(picture.table.rows).toEqual([['Slugs', '0', 'not known']])
    expect(picture.drawing.lines).toHaveLength(1)
  })
})

describe('soil over the years', () => {
  it('is put in the order of the days, with a gap where a result is missing', () => {
    const tests = [
      { day: '2026-08-01', value: 6.1 },
      { day: '2024-08-01', value: 5.9 },
      { day: '2025-08-01', value: null },
      { day: '2027-08-01', value: 6.2 },
    ] as const
    const picture = soilPicture({ analyte: 'pH', unit: '', decimals: 1, series: [{ where: 'Long Bank', tests }] }, told)
    expect(picture.table.rows.map((row) => row[1])).toEqual(['5.9', 'not known', '6.1', '6.2'])
    const [line, ...others] = picture.drawing.paths.filter((path) => path.points[0]?.[0] !== path.points[1]?.[0])
    expect(line?.points).toHaveLength(2)
    expect(others).toHaveLength(1)
  })
})

describe('without anything to draw', () => {
  it('a picture is still sound', () => {
    const none = { intensity: 0, mix: 0, growth: 0, onlyB: 0, onlyA: 0 }
    const pictures = [
      yieldsPicture([], told),
      cropRatiosPicture({ ...pair, crops: [], pooled: null }, told),
      seasonRatiosPicture({ ...pair, seasons: [], pooled: null, next: null }, told),
      everyWayPicture({ ...pair, ways: [] }, told),
      gapPicture({ ...pair, total: none, crops: [] }, told),
      ...labourPictures([{ method: 'dug', weeks: [], groups: [] }], told),
      runningLabourPicture({ weeks: [], methods: [], perArea: false }, told),
      lossesPicture({ in: 'area', methods: [], causes: [] }, told),
      soilPicture({ analyte: 'pH', unit: '', decimals: 1, series: [] }, told),
    ]
    for (const picture of pictures) expectSound(picture.drawing)
  })
})
