import { formatMoney, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { LabourBeside } from './labour-of-methods.ts'
import { type BoughtThing, payBack, thingCost, type Worked } from './pay-back.ts'

const words = catalogue.deciding.payBack

/** Hours of establishing against the hours that are saved since, per m2 of bed. */
export function establishingPage(beside: LabourBeside, locale: string) {
  const { establishing, extra, ownYearly, otherYearly } = beside
  const hours = (worked: Worked) =>
    worked.areaCm2 === 0 ? null : `${formatNumber(hoursPerM2(worked), locale, 2)} h/m²`
  const settled = ownYearly.areaCm2 > 0 && otherYearly.areaCm2 > 0
  const saved = settled ? hoursPerM2(otherYearly) - hoursPerM2(ownYearly) : null
  const pays = (what: Worked) => {
    if (!settled) return words.noGround
    if (what.minutes <= 0) return words.alreadyLess
    const found = payBack({ establishing: what, ownYearly, otherYearly })
    return found.kind === 'answer' ? words.seasons(formatNumber(found.seasons, locale, 1)) : words.never
  }
  const rows: { key: keyof typeof words.rows; value: string | null }[] = [
    { key: 'establishing', value: hours(establishing) },
    { key: 'extra', value: hours(extra) },
    { key: 'own', value: hours(ownYearly) },
    { key: 'other', value: hours(otherYearly) },
    { key: 'saved', value: saved === null ? null : savedSaid(saved, locale) },
    { key: 'pays', value: pays(extra) },
  ]
  return {
    rows: establishing.minutes > 0 ? rows : null,
    establishingSeasons: beside.establishingSeasons.join(', '),
    settledSeasons: beside.settledSeasons.join(', '),
    fewSeasons: beside.settledSeasons.length === 1,
    openWeeks: beside.openWeeks,
    otherEstablishingToo: beside.otherEstablishingToo,
  }
}

function savedSaid(saved: number, locale: string): string {
  const hours = `${formatNumber(Math.abs(saved), locale, 2)} h/m²`
  return saved < 0 ? words.moreInstead(hours) : hours
}

const hoursPerM2 = ({ minutes, areaCm2 }: Worked) => (10_000 * minutes) / 60 / areaCm2

/** The yearly cost of a tool both ways, and of an hour that it saves. */
export function thingPage(thing: BoughtThing, { locale, currency }: { locale: string; currency: string }) {
  const found = thingCost(thing)
  if (found.kind === 'refused') return null
  const money = (minor: number) => formatMoney(Math.round(minor), locale, currency)
  const perHour = found.minorPerHourSaved === null ? null : money(found.minorPerHourSaved)
  const rows: { key: keyof typeof words.thingRows; value: string | null }[] = [
    { key: 'straight', value: money(found.straightMinor) },
    { key: 'recovery', value: money(found.recoveryMinor) },
    { key: 'perHour', value: perHour },
  ]
  return { rows, perHour }
}
