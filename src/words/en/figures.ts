export const figures = {
  title: 'How the figures are made',
  intro:
    'Each figure is one whole number divided by another; it is rounded once, where you read it. In JSON and CSV both numbers stand beside it.',
  entries: [
    {
      key: 'marketablePerBed',
      name: 'Marketable kg per m² of bed',
      how: 'Marketable grams of all plantings for harvest, over the area of all beds under the method, empty and covered ones too. A failed planting adds no grams and keeps its ground in.',
      not: 'Marked "so far" while a planting still stands or a week of weights is open. Not shown where the method has no bed.',
    },
    {
      key: 'marketablePerGross',
      name: 'Marketable kg per m² gross',
      how: 'The same grams over the gross area, paths included. Where a garden is split between methods, its gross area is divided by the area of their beds.',
      not: 'As above.',
    },
    {
      key: 'hoursPerBed',
      name: 'Hours per m² of bed, without harvest work',
      how: 'Person-minutes of all tasks but harvest and washing and packing, over the area of the beds. What was written for a whole garden follows its beds by area.',
      not: 'Marked "at least" while a week is open: what nobody closed is unknown, not zero.',
    },
    {
      key: 'hoursPerKg',
      name: 'Hours per marketable kg',
      how: 'All person-minutes over all marketable kilograms: the quotient of two totals, never a mean of quotients.',
      not: 'Said to be open while a week of hours is. Not shown where nothing marketable was weighed.',
    },
    {
      key: 'costPerKg',
      name: 'Input cost per marketable kg',
      how: 'Each spreading costs its part of the delivery, price and carriage together. It is divided in equal whole parts over the seasons it lasts, and later parts stay with the ground it lies on.',
      not: 'Marked "at least" while a delivery has no price.',
    },
    {
      key: 'lostArea',
      name: 'Planted area lost',
      how: 'For each planting, its losses one after another on what still stood; weighed by planted area.',
      not: 'Not shown where nothing was planted.',
    },
    {
      key: 'matched',
      name: 'Matched crops',
      how: 'Marketable kilograms per m² planted, for the cultivars that stood under every method and are cleared. In the same mix: each crop weighs by the area planted to it over all methods (direct standardisation; Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194).',
      not: 'A planting that still stands takes its whole set out. Hours and costs are never shown by matched crop.',
    },
  ],
  notShown: 'When it is not shown, or not whole:',
}
