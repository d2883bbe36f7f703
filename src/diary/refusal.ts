/**
 * Why a row is not taken: the field that speaks against it and a code; the words for a code are picked where a page is
 * made. `ask` is no refusal for good: the row is taken once its writer says that it is right.
 */
export interface RowRefusal {
  readonly kind: 'refused'
  readonly field: Field
  readonly code: Code
  readonly about?: About
}

/** What a rule says of what was typed: the row that is stored, or why not. */
export type Ruled<Row> = { readonly kind: 'answer'; readonly row: Row } | RowRefusal

/**
 * `from`: the plantings or the label of a weighing; `place`: where hours were spent; each door has its own names for
 * them.
 */
export type Field =
  | 'from'
  | 'place'
  | 'day'
  | 'marketable'
  | 'unmarketable'
  | 'why'
  | 'container'
  | 'people'
  | 'season'
  | 'phase'
  | 'load'
  | 'outside'
  | 'lifted'
  | 'sameLot'
  | 'seedLot'
  | 'surely'

export type Code =
  | 'notChosen'
  | 'notInWeek'
  | 'ahead'
  | 'weekAhead'
  | 'beforeSown'
  | 'afterCleared'
  | 'isClosed'
  | 'twoSeasons'
  | 'byItsLabel'
  | 'noSuchLabel'
  | 'nothingWeighed'
  | 'whyMissing'
  | 'whyOfNothing'
  | 'lessThanTare'
  | 'plantsMissing'
  | 'sharesMissing'
  | 'noSeason'
  | 'noSeasonThen'
  | 'seasonClosed'
  | 'seasonOver'
  | 'phaseUnknown'
  | 'peopleTwice'
  | 'outsideTooLate'
  | 'keepersOpen'
  | 'sameWeek'
  | 'sameAsk'
  | 'muchAsk'
  | 'goneAsk'
  | 'liftedLater'
  | 'noGround'
  | 'noBeds'
  | 'twoStates'
  | 'otherLot'
  | 'lotMissing'
  | 'lotOfNoSeed'
  | 'pickedAsk'
  | 'longAsk'

/**
 * What a sentence needs beside its code. Nothing of a planting under a sealed label: then `label` is set and no more.
 */
interface About {
  readonly grams?: number
  readonly areaCm2?: number
  readonly crop?: string
  readonly day?: string
  readonly label?: string
}

export const refuse = (field: Field, code: Code, about?: About): RowRefusal =>
  about === undefined ? { kind: 'refused', field, code } : { kind: 'refused', field, code, about }

/** Whether the row is taken once its writer has said that it is right. */
export const isQuestion = (refusal: RowRefusal): boolean => refusal.field === 'surely'
