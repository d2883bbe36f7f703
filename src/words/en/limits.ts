/** What rules of the place allow to be spread, as the group has written them down. */
export const limits = {
  title: 'Local limits on what is spread',
  link: 'Local limits, written down once',
  held: (parts: string) => `Holds today: ${parts}.`,
  noneHeld: 'No limit holds today.',
  and: (parts: readonly string[]) => new Intl.ListFormat('en', { style: 'long' }).format(parts),
  said: ({ kg, nutrient, source, rule }: Record<'kg' | 'nutrient' | 'source' | 'rule', string>) =>
    `${kg} kg of ${nutrient} a hectare and year from ${source} (${rule})`,
  typed: 'typed for a look',
  nutrients: { nitrogen: 'nitrogen', phosphorus: 'phosphorus' },
  sources: { manure: 'Manure', compost: 'Compost', mulch: 'Mulch', other: 'Meal and other', all: 'All together' },
  ofSource: {
    manure: 'manure',
    compost: 'compost',
    mulch: 'mulch',
    other: 'other inputs',
    all: 'all sources together',
  },
  say:
    'Rules differ by country, by what is spread and by ground near water. Type yours once: the ledger and next ' +
    'season’s dressing are held against them. Of manure the 170 kg of Directive 91/676/EEC stand in until you do. ' +
    'Ask your authority; what it says goes before this page.',
  none: 'None of your own is written down yet.',
  caption: 'Limits of this group, the latest first',
  columns: {
    source: 'What is spread',
    nutrient: 'Nutrient',
    kgPerHa: 'Most, kg/ha',
    gPerM2: 'g/m²',
    rule: 'Rule',
    from: 'From',
  },
  noLimit: 'no limit',
  add: 'Write a limit down',
  fields: {
    source: 'What is spread',
    nutrient: 'Nutrient',
    nutrientHint: 'As the element: 1 kg of P2O5 is 0.436 kg of phosphorus.',
    most: 'Most in a year',
    mostHint: '170 kg/ha or 17 g/m2; a number alone is kg/ha. Blank: from that day there is no limit.',
    rule: 'Name of the rule, or who said so',
    fromDay: 'Holds from',
  },
  save: 'Save',
  saved: 'The limit is written down.',
  taken: 'A limit for this holds from that day already: correct that one.',
}
