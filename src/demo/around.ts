import { secondWeeksOf } from '../diary/second-weeks.ts'
import { linkOf, numberIn } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { hoursOfLoad, weighedBale } from './loads.ts'
import type { Making } from './making.ts'
import { notesAndCounts, soil, weather } from './observed.ts'

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
    id: making.newId(),
    seasonId: making.idOf('seasons', seasons.length),
    ...question,
    referenceMethodId: making.idOf('methods', 0),
    primaryMeasure: 'matched yield',
    marginPercent: 10,
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
      id: making.newId(),
      ...at,
      ...spread,
      quantityThousandths: 1000 * one.amount,
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
    id: work,
    seasonId: making.idOf('seasons', sharedWork.season),
    isoWeek: week,
    task,
    phase: 'established',
    personMinutes,
    gardenId: null,
    shareRule: 'equal',
    who: 'A.',
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
        id: making.newId(),
        gardenId: making.idOf('gardens', garden),
        countedOn,
        what: 'plants standing',
        bedId: planting?.bedId ?? null,
        plantingId: planting?.id ?? null,
        unit: 'plants',
        method: 'every plant on one row of 2 m',
        value: String(came),
        outOf: String(sown),
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
