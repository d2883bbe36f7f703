interface Band {
  readonly low: string
  readonly middle: string
  readonly high: string | null
}

const levelling = ({ low, middle, high }: Band) =>
  high === null
    ? `about ${middle} %, ${low} % at least; how much at most cannot be told`
    : low === high
      ? `${middle} %`
      : `about ${middle} %, somewhere between ${low} and ${high} %`

export const soil = {
  title: 'Soil',
  intro:
    'What laboratories found, by place and over time. Each table holds one quantity: one analyte, by one ' +
    'extractant, in one unit, to one depth. Values of different tables are never joined or averaged.',
  lastTested: (day: string, ranges: string) => `Tested last on ${day}: ${ranges}.`,
  ranged: ({ analyte, unit, least, most }: Record<'analyte' | 'unit' | 'least', string> & { most: string | null }) =>
    `${analyte} ${least}${most === null ? '' : ` to ${most}`} ${unit}`.trim(),
  calledSo: (band: string, analytes: string) => `The laboratory calls ${band} somewhere: ${analytes}.`,
  empty: 'No soil test is written down yet.',
  tests: 'Over time',
  all: 'Every value that was written down',
  add: 'Write down a value from a soil test',
  save: 'Save the value',
  saved: 'The value is saved.',
  dayAhead: 'This day is still to come. Write down the day on which the sample was taken.',
  phOutside: 'A pH lies between 0 and 14, a share between 0 and 100 %. Is a decimal point missing?',
  errorTooLarge: 'A laboratory does not err by more than its own value. Is a decimal point missing?',
  errorSaid: (error: string) => `standard error ${error}`,
  bandsCrossed: 'High must begin at or above where low ends.',
  needsPlace: 'First make a site: a sample comes from a place.',
  wholeSite: (site: string) => `${site}, the whole site`,
  wholeGarden: (garden: string) => `${garden}, the whole garden`,
  bed: (garden: string, bed: string) => `${garden}, ${bed}`,
  series: (analyte: string, extractant: string | null, unit: string, depth: string | null) =>
    `${analyte} by ${extractant ?? 'an extractant that is not written down'}, in ${unit}, ` +
    (depth === null ? 'depth not written down' : `0 to ${depth} cm`),
  depthUnknown: 'The depth is not written down: a change over time can be a change of depth.',
  extractantUnknown:
    'The extractant is not written down: these values stay with their own laboratory and are compared with no other.',
  otherLaboratory: (usual: string) =>
    `From ${usual}, except where another laboratory is named at a value: a step from one to the next can be the ` +
    'laboratories and not the soil.',
  apart: {
    extractant: (analyte: string) =>
      `${analyte} stands in more than one table, since different extractants are different quantities. An ` +
      'example from outside: in Ohio, phosphorus by Mehlich-3 read about 35 % above Bray P1, and potassium by ' +
      'Mehlich-3 about 14 % above ammonium acetate, in the same soil (Ohio State University Extension, ANR-75). ' +
      'Such a rule holds for its own region, so nothing is converted here.',
    unit: (analyte: string) =>
      `${analyte} stands in more than one table, since the units differ. A volume of soil is not its weight: ` +
      'mg/L and mg/kg agree only where a litre weighs a kilogram.',
    depth: (analyte: string) =>
      `${analyte} stands in more than one table, since the depths differ. Compost lies on top: a shallow sample ` +
      'holds more of it.',
    laboratory: (analyte: string) =>
      `${analyte} stands in a table for each laboratory, since the extractant is not written down.`,
  },
  bands: { low: 'low', optimum: 'optimum', high: 'high' },
  ofLaboratory: (band: string) => `${band}, as the laboratory reads it`,
  bandsWritten: (lowUnder: string | null, highFrom: string | null) =>
    [lowUnder === null ? '' : `low under ${lowUnder}`, highFrom === null ? '' : `high from ${highFrom}`]
      .filter(Boolean)
      .join(', '),
  notTested: 'not tested',
  depthTo: (depth: string | null) => (depth === null ? 'not written down' : `0 to ${depth} cm`),
  columns: {
    place: 'Place',
    day: 'Day',
    what: 'What',
    value: 'Value',
    extractant: 'Extractant',
    depth: 'Depth',
    laboratory: 'Laboratory',
    bands: 'Its bands',
  },
  fields: {
    place: 'Where the sample is from',
    day: 'Day it was taken',
    laboratory: 'Laboratory',
    analyte: 'What was measured',
    analyteHint: 'As the report names it: pH, P, K, organic matter, Pb',
    extractant: 'Extractant or method',
    extractantHint:
      'As the report names it: Olsen, Mehlich-3, Bray P1, ammonium acetate, water. Without it the value can be ' +
      'compared with no other laboratory’s.',
    value: 'Value',
    valueHint: 'As printed; a limit too, such as <5',
    more: 'More values of this report',
    moreSay: 'Of the same sample: its place, day, laboratory and depth hold for them. A line left blank is not there.',
    moreCell: (field: string, line: number) => `${field}, value ${line}`,
    unit: 'Unit',
    standardError: 'The laboratory’s standard error',
    standardErrorHint:
      'Only if it says so: a number in the unit of the value (of organic matter in per cent, points), or 5 % of it.',
    unitHint: 'As printed, mg/kg or mg/L: they are not the same',
    depth: 'Depth of the sample, from the surface down',
    depthHint: 'For example 0-15 cm or 6 in; a number alone is in cm. Leave it blank if you do not know it.',
    lowUnder: 'The laboratory calls it low under',
    highFrom: 'The laboratory calls it high from',
    bandsHint: 'Only if the report says so: bands belong to one laboratory, one extractant and one region',
  },
  organic: {
    link: 'Organic matter: where it goes if nothing changes, and where it will level off',
    title: 'Organic matter',
    intro:
      'A scenario, not a forecast: what a soil test of organic matter would come to over the years if the same ' +
      'were brought every year. Every assumption is a field below; change one and the address changes with it.',
    needsTests:
      'This needs at least two tests of organic matter in per cent, on two days, at one place, by one method, to ' +
      'one depth.',
    needsDepth: 'The depth of these samples is not written down: without it there is no weight of soil to reckon with.',
    needsBrought: 'What is brought a year is not known: write it in the first field.',
    known: (dry: string) =>
      `The inputs written down bring ${dry} g of dry matter per m² of bed and season in the mean, a season ` +
      'counted as a year. With the first field blank, the share of it below is used.',
    notKnown: (unknown: readonly string[]) =>
      unknown.length === 0
        ? 'No garden with beds and seasons stands behind this place, so what is brought has to be written by hand.'
        : `The dry matter of what was spread is not known (${unknown.join(', ')}: weight or bulk density, and ` +
          'moisture, are missing), so what is brought has to be written by hand.',
    seriesName: (place: string, extractant: string | null, tests: number) =>
      `${place}, by ${extractant ?? 'a method not written down'}, ${tests} tests`,
    between: (least: number, most: number) => `Write a number from ${least} to ${most}.`,
    fields: {
      of: 'Tests of',
      brought: 'Organic matter brought, g of dry matter per m² and year',
      organicShare: 'Share of the inputs’ dry matter that is organic, %',
      humified: 'Share that becomes soil organic matter, %',
      decay: 'Lost from the soil a year, %',
      bulkDensity: 'Bulk density of the soil, g/cm³',
      years: 'Years to look ahead',
    },
    hints: {
      brought: 'Leave it blank to use what the inputs brought',
      organicShare: 'From memory: 30 to 60 for composts, more for straw and hay',
      humified:
        'Leave it blank for 30 to 50, as for mature compost and manure; straw 10 to 20 (from memory, after French ' +
        'tables)',
      decay:
        'Leave it blank to go by your own tests where they can tell, else by 1 to 2, common for arable land of a ' +
        'temperate climate; more where it is warm, moist or tilled often',
      bulkDensity: 'Common: 1.1 to 1.5; weigh a known volume of dry soil to know yours',
      years: '',
    },
    show: 'Show the scenario',
    result: 'Under these assumptions',
    levels: (place: string, from: string, band: Band) =>
      `If as much is brought every year, organic matter (${place}) goes from ${from} % to ` + `${levelling(band)}.`,
    halved: (band: Band) => `With half as much from the last test on, to ${levelling(band)}.`,
    halfTime: ({ low, middle, high }: Band) =>
      high === null
        ? `Half of the way takes about ${middle} years, ${low} at least.`
        : low === high
          ? `Half of the way takes ${middle} years.`
          : `Half of the way takes about ${middle} years, ${low} to ${high}.`,
    rests: (brought: string, depth: string, tests: string) =>
      `${brought} g of organic matter per m² and year, ${depth} cm of soil, ${tests}.`,
    leavesOut: 'It leaves out tillage, warmth and wetness, and that fresh compost is lost faster than old humus.',
    decayFrom: {
      typed: ({ middle }: Band) => `The band goes by the ${middle} % lost a year that you typed.`,
      tests: ({ low, middle, high }: Band) =>
        `The band goes by your own tests: ${middle} % lost a year (95 % interval ${low} to ${high ?? '?'} %).`,
      usual: ({ low, high }: Band) =>
        `The band goes by what is published, ${low} to ${high ?? '?'} % lost a year, since your tests cannot tell yet.`,
    },
    humifiedFrom: {
      typed: 'The share that becomes soil is the one you typed.',
      published: 'Of what is brought 30 to 50 % is taken to become soil, as published.',
    },
    overrules: (low: string, high: string) =>
      `Your own tests disagree with what you typed: they show ${low} to ${high} % lost a year. Leave the field ` +
      'blank to go by them.',
    pictured: {
      title: 'Organic matter with as much again, and with half of it',
      how: 'Lines: the middle. Bands: all that lies within the ends. Crosses: tests.',
      same: 'as much',
      half: 'half',
      axis: '% organic matter',
      head: { same: 'As much again', sameBand: 'within', half: 'Half as much', halfBand: 'within' },
      band: (low: string, high: string) => `${low} to ${high}`,
      years: (count: string) => `${count} years`,
    },
    tooMuch: (percent: string) =>
      `Under these assumptions it would level off at ${percent} organic matter, which no mineral soil holds ` +
      '(from 34.5 % on it is peat): one of them is wrong.',
    cannot: 'These assumptions do not go together: look at them once more.',
    testsCounted: (tests: number) => `${tests} tests`,
    noFit: 'Tests tell it themselves from four in three years or more on, once their course bends.',
    tested: 'Tests beside the course',
    day: 'Day',
    measured: 'Tested',
    ofCourse: 'The course on that day',
    year: 'Year',
    reading: 'What this cannot show',
    limits: [
      'One pool, after Hénin and Dupuis (1945): every gram in the soil is lost at the same rate. Fresh compost ' +
        'goes faster than old humus, so a single pool makes the soil look slower than it is in the first years.',
      'Loss is faster with tillage, warmth and moisture, and none of that is in the scenario.',
      'Compost on top that is sampled as soil reads as organic matter of the soil. Compost also makes soil ' +
        'lighter: at the same depth less soil is weighed.',
      'Loss on ignition is not 1.724 times organic carbon in every soil: keep to one method.',
      'Two or three tests differ by their own error as much as by a few years of change.',
      'It forgets too fast: where farmyard manure was given from 1852 to 1871 only (Hoosfield, Rothamsted), the ' +
        'soil still held over 40 % more carbon than beside it; at the published rates one pool leaves under 20 %.',
    ],
  },
  lead: 'Lead in garden soil',
  leadSay:
    'Old paint, old roads and old orchards leave lead. For reference: on 17 January 2024 the US Environmental ' +
    'Protection Agency set a screening level for lead in residential soil of 200 mg/kg, or 100 mg/kg where there ' +
    'are other sources of lead; it says where to look closer, not what is safe, and may have changed since. The ' +
    'United Kingdom has a screening level for allotments of 80 mg/kg (this one is quoted from memory: look it ' +
    'up). Both are about total lead, not about what a mild extractant finds. This is no advice: your local rules ' +
    'and a qualified person decide.',
}
