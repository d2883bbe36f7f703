/** For the public page that says how every figure is made. */
export const decidingMade = [
  {
    key: 'depth-and-cost',
    name: 'Ground covered at a depth, and its cost',
    how:
      'The volume that was spread over the depth that was measured; the spreading’s part of price and carriage ' +
      'over that ground. Barrows and bags come in by the size that the group has measured, weights by the ' +
      'density of the input.',
    example: '2 m³ at 50 mm cover 40 m²; at 90.00 in all that is 2.25 per m².',
    source: 'Arithmetic: 10 L cover 1 m² at 10 mm.',
    not: 'Where the volume of a unit is not known.',
  },
  {
    key: 'raw-manure-interval',
    name: 'Days between raw manure and harvest',
    how:
      '120 days from the day it was spread where the edible part touches the soil or soil particles, 90 ' +
      'otherwise. Not known counts as touching; partly rotted manure counts as raw. A picking on the last day is ' +
      'late enough.',
    example: 'Spread on 1 January 2026: not before 1 May where it touches, 1 April where it does not.',
    source: '7 CFR 205.203(c)(1), National Organic Program, United States. A reference: local rules decide.',
    not:
      'Where the wait was over before the crop was sown, or the crop was cleared before the manure went on. It ' +
      'never blocks.',
  },
  {
    key: 'compost-layer',
    name: 'What a layer of compost carries',
    how:
      'Volume = area x depth; mass = volume x density; dry matter = mass x (1 - moisture); nutrient = dry matter ' +
      'x its content. Oxides become elements by atomic weights: P = 0.4364 P2O5, K = 0.8302 K2O. Against it ' +
      'stands what harvests carried off: weight x composition of the raw food, nitrogen as protein / 6.25.',
    example:
      '5 cm on 1 m² at 600 kg/m³, half of it water, 1.5-0.4-1.0 per cent of dry matter: 30 kg, 15 kg dry, 225 ' +
      'g N, 60 g P, 150 g K.',
    source:
      'Atomic weights: IUPAC. Composition: USDA National Nutrient Database for Standard Reference. Usual ' +
      'compost: New England Vegetable Guide (1-1-1). Build-up: Montana State University 2025, University of ' +
      'Minnesota 2022.',
    not:
      'A nutrient whose content is not known stays so. What stays of nitrogen is not shown: most of it is held ' +
      'in humus, washed out or lost to the air.',
  },
  {
    key: 'cover-or-hoe',
    name: 'Covering a weedy bed, or hoeing on',
    how:
      'Both ways over the same seasons, beyond a clean bed of the same method. Hoeing: its time a season, ' +
      'falling by the share that is said, and the harvest the weed takes. Covering: laying, mending and lifting, ' +
      'the harvest of the covered seasons, and hoeing again from the second season after it where the weed comes ' +
      'back; less the work that the covered bed spares, at most to the worth of its lost harvest. In hours a ' +
      'lost kg counts the hours in which the group grows it; with a wage and a price both are money. Each figure ' +
      'is drawn from a triangle between its low and high; the share of draws in which covering takes less is a ' +
      'chance under those assumptions.',
    example:
      '5 h of hoeing a season for 3 seasons are 15 h. 4 h of covering, one season without 20 kg at 0.25 h/kg ' +
      '(5 h) less 5 h of work spared, not coming back: 4 h. Covering takes 11 h less, and pays above 1.33 h of ' +
      'hoeing a season.',
    source: 'A model of our own. Triangular spreads: Evans, Hastings and Peacock, Statistical Distributions, 2000.',
    not: 'Where the record does not know it and nothing is typed.',
  },
  {
    key: 'pay-back',
    name: 'Pay-back of establishing, and of a tool',
    how:
      'What a method took more than another on a m² of bed, in hours without harvest, washing and packing, in ' +
      'inputs (things that last by their useful life), and in both where the group values an hour, summed over ' +
      'the closed seasons of both. It is earned back where the sum comes back to 0, counted evenly within that ' +
      'season; what is still owing is divided by what a settled season saves, with a range by Student’s t over ' +
      'two or more such seasons, for their mean. A tool: (price - end value) / years, and by capital recovery ' +
      'with a real rate r: (price - end value) x r (1 + r)^n / ((1 + r)^n - 1) + end value x r.',
    example:
      '30 min/m² more in the first season, then 12, 12 and 12 less: earned back 2.5 seasons after it. A tunnel ' +
      'of 2000, worth 200 after 15 years, at 5 per cent: 120.00 a year in equal parts, 183.42 by capital ' +
      'recovery.',
    source:
      'Pay-back with unequal years, as in any text on capital budgeting. Iowa State University Extension, Ag ' +
      'Decision Maker A3-29, Estimating Farm Machinery Costs.',
    not:
      'Where nothing is saved, no closed season has followed establishing, it lies beyond 20 seasons, or a ' +
      'spreading has no price (money).',
  },
]
