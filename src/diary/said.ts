import { asShown } from '../lookups/unsaid.ts'
import { formatArea, formatDay, formatKilograms } from '../quantities/formatting.ts'
import type { Words } from '../words/catalogue.ts'
import type { Code, Field, RowRefusal } from './refusal.ts'

/** The sentence of a refusal, in the words and numbers of a reader. */
export function refusalSaid({ code, about = {} }: Pick<RowRefusal, 'code' | 'about'>, words: Words, locale: string) {
  const d = words.diary
  const { crop = '' } = about
  const kilograms = formatKilograms(about.grams ?? Number.NaN, locale)
  const sentences: Readonly<Record<Code, () => string>> = {
    notChosen: () => words.fields.notChosen,
    notInWeek: () => d.notInWeek,
    ahead: () => d.ahead,
    weekAhead: () => d.weekAhead,
    beforeSown: () => d.beforeSown,
    afterCleared: () => d.afterCleared,
    isClosed: () => d.isClosed,
    twoSeasons: () => d.twoSeasons,
    byItsLabel: () => words.weighing.byItsLabel,
    noSuchLabel: () => words.weighing.noSuchLabel,
    nothingWeighed: () => d.nothingWeighed,
    whyMissing: () => d.whyMissing,
    whyOfNothing: () => d.whyOfNothing,
    lessThanTare: () => d.lessThanTare,
    plantsMissing: () => d.plantsMissing(crop),
    sharesMissing: () => d.sharesMissing,
    noSeason: () => d.noSeason,
    noSeasonThen: () => d.noSeasonThen(crop),
    seasonOver: () => d.seasonOver,
    seasonClosed: () => d.seasonClosed(crop),
    phaseUnknown: () => d.phaseUnknown,
    peopleTwice: () => d.peopleTwice,
    outsideTooLate: () => d.outsideTooLate,
    keepersOpen: () => words.weighing.keepersOpen,
    sameWeek: () => words.weighing.sameWeek,
    sameAsk: () => d.sameAsk,
    muchAsk: () =>
      about.label === undefined
        ? d.muchAsk(kilograms, formatArea(about.areaCm2 ?? Number.NaN, locale), crop)
        : words.weighing.muchAsk,
    goneAsk: () => d.goneAsk(crop, formatDay(asShown(about.day), locale)),
    noGround: () => d.noGround,
    noBeds: () => d.noBeds,
    liftedLater: () => d.liftedLater,
    twoStates: () => d.twoStates,
    otherLot: () => d.otherLot,
    lotMissing: () => d.lotMissing,
    lotOfNoSeed: () => d.lotOfNoSeed,
    pickedAsk: () => d.pickedAsk(crop),
    longAsk: () => d.longAsk,
  }
  return sentences[code]()
}

/** The sentence of a refusal at the field of a form, by the form's own names for the fields that differ. */
export function errorsOf(
  refusal: RowRefusal,
  { words, locale, names = {} }: { words: Words; locale: string; names?: Partial<Record<Field, string>> },
): Record<string, string> {
  return { [names[refusal.field] ?? refusal.field]: refusalSaid(refusal, words, locale) }
}
