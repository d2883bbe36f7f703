import { secondWeeksOf } from '../diary/second-weeks.ts'
import { linkOf, numberIn } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { hoursOfLoad, weighedBale } from './loads.ts'
import type { Making } from './making.ts'

/**
 * What stands in the record beside weights and hours: shared things, a covered bed, soil, notes, weather, decisions.
 */
export function aroundTheGardens(making: Making): void {
  inputs(making)
  sharedThings(making)
  coveredBed(making)
  soil(making)
  notesAndCounts(making)
  weather(making, making.truth.seasons)
  decisions(making)
  secondReadings(making)
  plantsStanding(making)
  ownHeap(making)
  weighedBale(making)
}

/**
 * What stands beside weights and hours in the season that runs on a day: loads that came or are ordered, and the
 * weather.
 */
export function aroundTheRunning(making: Making): void {
  const { runningInputs, running, seasons } = making.truth
  for (const { name, garden, amount, price, carriage, ordered, day } of runningInputs) {
    const inputId = String(making.rows.inputs.find((one) => one.name === name)?.id)
    const deliveryId = making.newId()
    const quantityThousandths = 1000 * amount
    const bought = { orderedOn: ordered, deliveredOn: day, quantityThousandths, priceMinor: price }
    making.rows.deliveries.push({ id: deliveryId, inputId, ...bought, deliveryPriceMinor: carriage })
    if (day === null) continue
    const appliedOn = addDays(day, 3)
    const at = { seasonId: making.idOf('seasons', seasons.length), gardenId: making.idOf('gardens', garden) }
    const spread = { deliveryId, appliedOn, quantityThousandths, phase: 'established' }
    making.rows.applications.push({ id: making.newId(), ...at, ...spread })
    hoursOfLoad(making, { ...at, deliveryId, appliedOn })
  }
  weather(making, [running])
  const { lockedOn, ...question } = making.truth.question
  making.rows.questions.push({
    ...{ id: making.newId(), seasonId: making.idOf('seasons', seasons.length), ...question },
    ...{ referenceMethodId: making.idOf('methods', 0), primaryMeasure: 'matched yield', marginPercent: 10 },
    terms: { weights: 'marketable', mix: 'pooled areas', outsideLosses: 'counted' },
    lockedAt: `${lockedOn}T08:00:00Z`,
  })
}

/** Deliveries that are spread whole on one garden; each costs its price in equal parts over its seasons. */
function inputs(making: Making): void {
  const known = new Map<string, string>()
  for (const one of making.truth.inputs) {
    const inputId = known.get(one.name) ?? making.newId()
    if (!known.has(one.name)) {
      making.rows.inputs.push({
        id: inputId,
        name: one.name,
        kind: one.kind,
        unit: one.unit,
        usefulLifeSeasons: one.life,
        ...making.truth.analyses[one.name],
      })
      known.set(one.name, inputId)
    }
    const deliveryId = making.newId()
    const orderedOn = 'ordered' in one ? one.ordered : null
    const bought = { orderedOn, deliveredOn: one.day, quantityThousandths: 1000 * one.amount, priceMinor: one.price }
    making.rows.deliveries.push({ id: deliveryId, inputId, ...bought, deliveryPriceMinor: one.carriage })
    const at = { seasonId: making.idOf('seasons', one.season), gardenId: making.idOf('gardens', one.garden) }
    const spread = { deliveryId, appliedOn: addDays(one.day, 2) }
    making.rows.applications.push({
      ...{ id: making.newId(), ...at, ...spread, quantityThousandths: 1000 * one.amount },
      phase: one.season === 0 ? 'establishing' : 'established',
    })
    hoursOfLoad(making, { ...at, ...spread })
    making.books.cost(one.season, one.garden, one.price + one.carriage, one.life, making.truth.seasons.length)
  }
}

function sharedThings(making: Making): void {
  const { sharedCrate, sharedWork } = making.truth.onPurpose
  const seasonId = making.idOf('seasons', sharedCrate.season)
  const crate = making.newId()
  making.rows.containers.push({ id: making.newId(), name: 'Blue crate', tareG: 1_200 })
  const weighed = { marketableG: sharedCrate.marketableG, unmarketableG: 0, unmarketableReason: null }
  const on = { harvestedOn: sharedCrate.day, isoWeek: weekOf(sharedCrate.day) }
  making.rows.harvests.push({ id: crate, seasonId, plantingId: null, shareRule: 'area', ...on, ...weighed })
  for (const garden of sharedCrate.gardens) {
    const from = plantingIn(making, { ...sharedCrate, garden })
    making.rows.harvestShares.push({ id: making.newId(), harvestId: crate, plantingId: linkOf(from?.id), share: null })
    making.books.harvest(sharedCrate.season, garden, sharedCrate.marketableG / sharedCrate.gardens.length, 0)
  }
  const work = making.newId()
  const { task, week, personMinutes } = sharedWork
  making.rows.labourEntries.push({
    ...{ id: work, seasonId: making.idOf('seasons', sharedWork.season), isoWeek: week, task, phase: 'established' },
    ...{ personMinutes, gardenId: null, shareRule: 'equal', who: 'A.' },
  })
  for (const garden of making.truth.gardens.keys()) {
    const gardenId = making.idOf('gardens', garden)
    making.rows.labourShares.push({ id: making.newId(), labourEntryId: work, gardenId, share: null })
    making.books.labour(sharedWork.season, garden, task, personMinutes / making.truth.gardens.length)
  }
}

/** The planting of a crop of the list in one garden and season. */
function plantingIn(making: Making, { season, garden, crop }: { season: number; garden: number; crop: number }) {
  const [seasonId, cultivarId] = [making.idOf('seasons', season), making.idOf('cultivars', crop)]
  const inGarden = making.rows.beds.filter((bed) => bed.gardenId === making.idOf('gardens', garden))
  const beds = new Set(inGarden.map((bed) => bed.id))
  return making.rows.plantings.find(
    (one) => one.seasonId === seasonId && one.cultivarId === cultivarId && beds.has(String(one.bedId)),
  )
}

function coveredBed(making: Making): void {
  const { garden, bed, fromDay, toDay, why } = making.truth.onPurpose.coveredBed
  const bedId = making.named('beds', `${garden} ${bed}`)
  const regrowth = 'A few shoots along the edge in April'
  const came = { material: 'woven cover', regrowth, regrowthAfter4Weeks: 5 }
  making.rows.bedClosures.push({ id: making.newId(), bedId, fromDay, toDay, why, ...came })
}

/** Two laboratories and two extractants for phosphorus: values that must not be joined. */
function soil(making: Making): void {
  const siteId = making.named('sites', 'Quern Hill')
  const days = (['2023-08-05', '2024-08-06', '2025-08-05'] as const).map((day) => making.day(day))
  for (const [year, sampledOn] of days.entries()) {
    for (const [garden] of making.truth.gardens.entries()) {
      const at = { siteId, gardenId: making.idOf('gardens', garden), sampledOn, depthMm: 150 }
      const noise = making.chance.normal()
      const mehlich = year === 2 && garden === 2
      const laboratory = mehlich ? 'Second laboratory (invented)' : 'Harbour laboratory (invented)'
      const phosphorus = 22 + 6 * garden + (garden === 2 ? 9 * year : 2 * year) + 2 * noise
      const values = [
        { analyte: 'pH', extractant: 'water', value: (6 + 0.1 * garden + 0.05 * noise).toFixed(1), unit: 'pH' },
        {
          analyte: 'P',
          extractant: mehlich ? 'Mehlich-3' : 'Olsen',
          value: (mehlich ? phosphorus * 1.7 : phosphorus).toFixed(0),
          unit: mehlich ? 'mg/kg' : 'mg/L',
        },
        {
          analyte: 'K',
          extractant: 'ammonium acetate',
          value: (140 + 30 * garden + 10 * noise).toFixed(0),
          unit: 'mg/kg',
        },
        {
          analyte: 'organic matter',
          extractant: 'loss on ignition',
          value: (5 + (garden === 2 ? 0.5 * year : 0.1 * year) + 0.1 * noise).toFixed(1),
          unit: '%',
        },
      ]
      for (const one of values) making.rows.soilTests.push({ id: making.newId(), ...at, laboratory, ...one })
    }
  }
}

function notesAndCounts(making: Making): void {
  const note = (garden: number, seenOn: IsoDate, kind: string, words: string, severity: number | null) =>
    making.rows.fieldNotes.push({
      id: making.newId(),
      gardenId: making.idOf('gardens', garden),
      seenOn,
      kind,
      words,
      severity,
    })
  note(3, making.day('2024-12-28'), 'pest', 'Slugs under the hay have taken the potatoes; the row next door stands.', 5)
  note(1, making.day('2025-01-20'), 'weather', 'Five weeks without a dry day for the notebook.', null)
  note(2, making.day('2024-10-30'), 'other', 'The compost came two months late; half the sowing was done.', null)
  note(4, making.day('2025-05-20'), 'weed', 'Couch grass has come in from the pasture side.', 4)
  note(0, making.day('2025-11-11'), 'germination', 'Carrots up in eleven days.', null)
  for (const [year, countedOn] of (['2023-09-20', '2024-09-18', '2025-09-17'] as const)
    .map((day) => making.day(day))
    .entries()) {
    for (const garden of making.truth.gardens.keys()) {
      const worms = Math.max(0, Math.round(6 + 3 * garden + 2 * year + 2 * making.chance.normal()))
      const counted = { what: 'earthworms', method: 'hand sorting, one spade of 20 x 20 x 20 cm', unit: 'worms' }
      making.rows.counts.push({
        ...{ id: making.newId(), gardenId: making.idOf('gardens', garden), countedOn, ...counted },
        value: String(worms),
      })
    }
  }
  const patch = {
    gardenId: making.idOf('gardens', 4),
    species: 'couch grass (Elymus repens)',
    position: 'pasture side',
  }
  for (const [seenOn, areaCm2, shootsPerM2] of [
    ['2025-05-20', 60_000, 100],
    ['2026-04-15', 9_000, 5],
  ] as const) {
    making.rows.weedPatches.push({ id: making.newId(), ...patch, seenOn: making.day(seenOn), areaCm2, shootsPerM2 })
  }
}

/** A maritime climate of the southern hemisphere: warmest late in January. */
function weather(making: Making, seasons: readonly { startsOn: IsoDate; endsOn: IsoDate }[]): void {
  for (const season of seasons) {
    for (let day = season.startsOn; day <= season.endsOn; day = addDays(day, 1)) {
      const year = (Date.parse(`${day}T00:00:00Z`) - Date.parse('2023-01-25T00:00:00Z')) / 86_400_000 / 365.25
      const mean = 120 + 55 * Math.cos(2 * Math.PI * year) + 20 * making.chance.normal()
      const half = 40 + 15 * making.chance.uniform()
      const rain = making.chance.uniform() < 0.35 ? Math.round(-60 * Math.log(1 - making.chance.uniform())) : 0
      making.rows.weatherDays.push({
        ...{ id: making.newId(), station: 'Quern Hill (invented)', day, rainTenthsMm: rain },
        ...{ minimumTenthsC: Math.round(mean - half), maximumTenthsC: Math.round(mean + half) },
      })
    }
  }
}

function decisions(making: Making): void {
  const decide = (season: number, decidedOn: IsoDate, row: Record<string, string | number | null>) =>
    making.rows.decisions.push({ id: making.newId(), seasonId: making.idOf('seasons', season), decidedOn, ...row })
  decide(0, making.day('2024-06-10'), {
    decision: 'Keep all five methods another year, with the same cultivars.',
    finding: 'One season: what differed may be the gardens.',
    expected: 'The order of the gardens holds, or it does not.',
    lookAgainOn: making.day('2025-06-15'),
    happened: 'It held for the first three.',
    measure: 'hoursPerBed',
    unit: 'h/m2',
    methodId: making.idOf('methods', 2),
    besideMethodId: making.idOf('methods', 0),
    aboutSeasonId: making.idOf('seasons', 1),
    expectedThousandths: -800,
    lowThousandths: -1200,
    highThousandths: -400,
  })
  decide(1, making.day('2025-06-18'), {
    decision: 'Cover the worst bed of Clover Strip from August, to start again.',
    finding: 'Couch grass took more hours than any crop there.',
    expected: 'Under ten shoots per m2 in April.',
    lookAgainOn: making.day('2026-04-15'),
    happened: 'Five shoots per m2, all along one edge.',
  })
  decide(2, making.day('2026-06-06'), {
    decision: 'Order the compost in June, for delivery in July.',
    finding: `In ${making.day('2024-10-29').slice(0, 4)} it came in October, and half the sowing was done.`,
    expected: 'Spread before the first of August.',
    lookAgainOn: making.day('2026-08-05'),
    happened: null,
  })
}

/**
 * What a second person read off the scales in the two weeks of each season that are drawn for it; nobody's account
 * wrote it down.
 */
function secondReadings(making: Making): void {
  for (const { id, startsOn, endsOn } of making.rows.seasons) {
    for (const isoWeek of secondWeeksOf({ id, startsOn, endsOn })) {
      const first = new Map<string, number>()
      for (const one of making.rows.harvests) {
        if (one.isoWeek !== isoWeek || one.plantingId === null) continue
        const grams = Number(one.marketableG) + Number(one.unmarketableG)
        first.set(String(one.plantingId), numberIn(first, String(one.plantingId)) + grams)
      }
      for (const [plantingId, grams] of first) {
        const read = grams * Math.exp(making.truth.onPurpose.secondReadings.sdLog * Math.SQRT2 * making.chance.normal())
        const weighedG = Math.max(10, Math.round(read / 10) * 10)
        making.rows.secondReadings.push({ id: making.newId(), isoWeek, plantingId, weighedG, createdBy: null })
      }
    }
  }
}

/** How many came up: counts that name their planting, since two crops stand in each of these beds. */
function plantsStanding(making: Making): void {
  for (const { season, crop, countedOn, sown, standing } of making.truth.onPurpose.plantsStanding) {
    for (const [garden, came] of standing.entries()) {
      const planting = plantingIn(making, { season, garden, crop })
      making.rows.counts.push({
        ...{ id: making.newId(), gardenId: making.idOf('gardens', garden), countedOn, what: 'plants standing' },
        ...{ bedId: planting?.bedId ?? null, plantingId: planting?.id ?? null, unit: 'plants' },
        ...{ method: 'every plant on one row of 2 m', value: String(came), outOf: String(sown) },
      })
    }
  }
}

function ownHeap(making: Making): void {
  const { log, input, unit, ...heap } = making.truth.onPurpose.heap
  const inputId = making.newId()
  making.rows.inputs.push({ id: inputId, name: input, kind: 'compost', unit, ownMade: 1 })
  const entries = log.map((entry) => ({ id: making.newId(), ...entry }))
  making.rows.stocks.push({ id: making.newId(), inputId, ...heap, log: entries })
}
