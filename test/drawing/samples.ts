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
import { labourByWeek } from '../../src/comparison/totals/labour-by-week.ts'
import { weeksBetween } from '../../src/quantities/iso-week.ts'
import { aDay } from '../support/calendar.ts'

/** Invented figures of the demo's kind, enough to show what each picture can come to. */
const locale = 'en-NZ'
const [dug, fork, mulch, hay, clover] = [
  'Dug every spring',
  'Broadfork, no inversion',
  'Compost mulch, never dug',
  'Deep hay mulch',
  'Living clover between rows',
]
const methods = [dug, fork, mulch, hay, clover]
const pair = { methodA: dug, methodB: mulch }
const weeks: string[] = weeksBetween('2026-08-01', '2027-05-31')

/** Hours that rise to a height at one week and fall again; whole quarters. */
const hump = (week: number, at: number, width: number, height: number) =>
  Math.round(4 * height * Math.exp(-(((week - at) / width) ** 2))) / 4

const open = new Set([weeks[7], weeks[20], weeks[21]])
const closed = new Set(weeks.filter((week) => !open.has(week)))
const entries = weeks.flatMap((week, i) => [
  { week, task: 'spreading mulch or compost', minutes: 60 * hump(i, 6, 3, 9) },
  { week, task: 'planting', minutes: 60 * (hump(i, 9, 3, 4) + hump(i, 22, 4, 2)) },
  { week, task: 'weeding', minutes: 60 * hump(i, 17, 9, 3) },
  { week, task: 'harvest', minutes: 60 * hump(i, 29, 8, 6) },
  { week, task: 'clearing', minutes: 60 * hump(i, 40, 3, 3) },
])

const establishing = weeks.map((_, i) => hump(i, 5, 4, 12) + hump(i, 22, 12, 3))
const keeping = weeks.map((_, i) => hump(i, 6, 4, 5) + hump(i, 20, 12, 6.5))
const mowing = weeks.map((_, i) => (i === 18 ? null : hump(i, 8, 4, 6) + hump(i, 22, 12, 5.2)))

const crops = ['Carrots', 'Potatoes, main crop', 'Silver beet', 'Leeks', 'Dwarf beans', 'Winter squash']

export function samplePictures(): Picture[] {
  return [
    yieldsPicture(
      [
        { method: dug, value: 3.12, low: 2.61, high: 3.63 },
        { method: fork, value: 3.3, low: 2.7, high: 3.9 },
        { method: mulch, value: 3.87, low: 3.31, high: 4.43 },
        { method: hay, value: 2.4, noInterval: 'one season: none' },
        { method: clover, value: 2.05, low: 0.3, high: Number.POSITIVE_INFINITY },
      ],
      { id: 'yields', locale },
    ),
    cropRatiosPicture(
      {
        ...pair,
        crops: crops.map((crop, i) => ({ crop, ratio: [1.12, 0.94, 1.45, 1.31, 0, null][i] ?? null })),
        pooled: { value: 1.19, low: 0.93, high: 1.52 },
      },
      { id: 'crops', locale },
    ),
    seasonRatiosPicture(
      {
        ...pair,
        seasons: [
          { season: '2024/25', ratio: 1.08 },
          { season: '2025/26', ratio: 1.31 },
          { season: '2026/27', ratio: 1.19 },
        ],
        pooled: { value: 1.19, low: 0.94, high: 1.5 },
        next: { low: 0.74, high: 1.91 },
      },
      { id: 'seasons', locale },
    ),
    everyWayPicture(
      {
        ...pair,
        ways: ['marketable', 'all weight'].flatMap((weight, i) =>
          ['pooled areas', 'every crop once'].flatMap((mix, j) =>
            ['losses counted', 'sets with outside losses left out'].map((losses, k) => ({
              way: `${weight}, ${mix}, ${losses}`,
              ratio: 1.19 - 0.06 * i - 0.13 * j + 0.04 * k,
              first: i + j + k === 0,
            })),
          ),
        ),
      },
      { id: 'ways', locale },
    ),
    gapPicture(
      {
        ...pair,
        total: { intensity: 0.18, mix: -0.31, growth: 0.74, onlyB: 0.22, onlyA: -0.08 },
        crops: crops.map((crop, i) => ({
          crop,
          intensity: [0.04, 0.05, 0.02, 0.03, 0.02, 0.02][i] ?? 0,
          mix: [-0.12, -0.3, 0.06, 0.04, 0.02, -0.01][i] ?? 0,
          growth: [0.1, -0.09, 0.35, 0.22, -0.14, 0.3][i] ?? 0,
        })),
      },
      { id: 'gap', locale },
    ),
    ...labourPictures([{ method: mulch, weeks, groups: labourByWeek(entries, weeks, closed) }], {
      id: 'labour',
      locale,
    }),
    runningLabourPicture(
      {
        weeks,
        perArea: false,
        methods: [
          { method: dug, hours: keeping },
          { method: mulch, hours: establishing },
          { method: clover, hours: mowing },
        ],
      },
      { id: 'running', locale },
    ),
    lossesPicture(
      {
        in: 'area',
        methods,
        causes: [
          { cause: 'Slugs', values: [1.2, 2, 9.4, 14.5, 6] },
          { cause: 'Frost', values: [3.5, 3.5, 2, 0, 1] },
          { cause: 'Wind', values: [0, 0, 0, 0, null] },
        ],
      },
      { id: 'losses', locale },
    ),
    soilPicture(
      {
        ...{ analyte: 'Olsen P', unit: 'mg/L, 0 to 150 mm', decimals: 0 },
        series: [
          { where: 'Lower Terrace', tests: soilTests([21, 22, 20, 21]) },
          { where: 'Orchard Edge', tests: soilTests([20, 21, 21, 22]) },
          { where: 'Long Bank', tests: soilTests([22, 31, 38, 46]) },
          { where: 'Hay Meadow', tests: soilTests([18, null, 24, 26]) },
          { where: 'Clover Strip', tests: soilTests([19, 20, null, 22]) },
        ],
      },
      { id: 'soil', locale },
    ),
  ]
}

function soilTests(values: readonly (number | null)[]) {
  return values.map((value, i) => ({ day: aDay(`${2024 + i}-0${7 + (i % 2)}-12`), value }))
}
