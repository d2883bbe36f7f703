type Named = (currency: string) => string
const named = <K extends string>(names: Readonly<Record<K, Named>>) => names

/** The measures by their keys: what each is called, and how it is made. */
export const measures = {
  /** Of the table of all crops. */
  names: named({
    marketablePerBed: () => 'Marketable, kg per m² of bed',
    allPerBed: () => 'All, kg per m² of bed',
    marketablePerGross: () => 'Marketable, kg per m² gross',
    allPerGross: () => 'All, kg per m² gross',
    hoursPerBed: () => 'Hours per m² of bed, without harvest work',
    hoursPerKg: () => 'Hours per marketable kg, with harvest work',
    costPerKg: (currency) => `Inputs, ${currency} per marketable kg`,
    costPerBed: (currency) => `Inputs, ${currency} per m² of bed`,
    lostArea: () => 'Planted area lost',
  }),
  /** Under rules of one's own choice. */
  counted: named({
    kgPerArea: () => 'kg per m²',
    hoursPerArea: () => 'Hours per m²',
    hoursPerKg: () => 'Hours per kg',
    costPerKg: (currency) => `Inputs, ${currency} per kg`,
    costPerArea: (currency) => `Inputs, ${currency} per m²`,
    lostArea: () => 'Planted area lost',
  }),
  /** On the pages of how the figures are made. */
  made: {
    marketablePerBed: {
      name: 'Marketable kg per m² of bed',
      how:
        'Marketable grams of all plantings for harvest, over the area of all beds under the method, empty and ' +
        'covered ones too. A failed planting adds no grams and keeps its ground in.',
      not:
        'Marked "so far" while a planting still stands or a week of weights is open. Not shown where the method ' +
        'has no bed.',
    },
    marketablePerGross: {
      name: 'Marketable kg per m² gross',
      how:
        'The same grams over the gross area, paths included. Where a garden is split between methods, its gross ' +
        'area is divided by the area of their beds.',
      not: 'As above.',
    },
    hoursPerBed: {
      name: 'Hours per m² of bed, without harvest work',
      how:
        'Person-minutes of all tasks but harvest and washing and packing, over the area of the beds. What was ' +
        'written for a whole garden follows its beds by area.',
      not:
        'Marked "at least" while a week is open: what nobody closed is unknown, not zero. Methods are not compared ' +
        'by it where more than a tenth of what one has was written for several places together, or shared between ' +
        'gardens by a rule, and only divided.',
    },
    hoursPerKg: {
      name: 'Hours per marketable kg',
      how: 'All person-minutes over all marketable kilograms: the quotient of two totals, never a mean of quotients.',
      not:
        'Said to be open while a week of hours is. Not shown where nothing marketable was weighed. Over the ' +
        'seasons it is compared only in those with nine tenths of the weeks of hours and of weights closed and ' +
        'nothing standing any more, and told apart only where it stands whatever the open ones may hold: kilograms ' +
        'that nobody closed are unknown, not zero.',
    },
    costPerKg: {
      name: 'Input cost per marketable kg',
      how:
        'Each spreading costs its part of the delivery, price and carriage together. It is divided in equal whole ' +
        'parts over the seasons it lasts, and later parts stay with the ground it lies on.',
      not:
        'Marked "at least" while a delivery has no price. Over the seasons it is compared only in those with every ' +
        'price known, nothing standing any more and nine tenths of the weeks of weights closed, and told apart ' +
        'only where it stands whatever the open ones may hold, and not where more than a tenth of it was written ' +
        'for several places together.',
    },
    lostArea: {
      name: 'Planted area lost',
      how: 'For each planting, its losses one after another on what still stood; weighed by planted area.',
      not: 'Not shown where nothing was planted.',
    },
    matched: {
      name: 'Matched crops',
      how:
        'Marketable kilograms per m² planted, for the cultivars that stood under every method and are cleared. In ' +
        'the same mix: each crop weighs by the area planted to it over all methods (direct standardisation; ' +
        'Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194).',
      not: 'A planting that still stands takes its whole set out. Hours and costs are never shown by matched crop.',
    },
    entries: {
      name: 'Entries read off paper, and late ones',
      how:
        'Of all entries of hours and weighings that touch the method’s beds, those that were typed in from paper, ' +
        'and those that came into the record more than 14 days after their day, or after the end of their week ' +
        'where no day is known. One entry shared by several methods counts once for each. They count in every ' +
        'figure as any other: what is written late is written from memory more often (common practice, no source; ' +
        'so are the 14 days).',
      not: 'An entry brought in from a file counts by the day it was brought in.',
    },
  },
}
