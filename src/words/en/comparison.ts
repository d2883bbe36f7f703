import { byName } from '../by-name.ts'
import { listed } from '../listed.ts'
import { plural } from './plural.ts'
export const comparison = {
  title: 'Compare',
  allSeasons: 'All seasons',
  all: 'All',
  parts: 'On this page',
  partsNav: 'Parts of the comparison',
  partNames: {
    side: 'Side by side',
    seasons: 'Season by season',
    crops: 'Crop by crop',
    why: 'Why they differ',
    work: 'Work through the season',
    losses: 'What was lost',
    otherwise: 'Counted otherwise',
    doubts: 'What else can fool',
    layout: 'The layout',
  },
  seasonLabel: 'Seasons',
  referenceLabel: 'Held beside',
  show: 'Show',
  take: 'To take away',
  noPart: 'There is nothing to show here for what is chosen.',
  everyFinding: 'Every finding in its own sentence',
  intoReport: 'Put this into a report',
  which: 'Which season',
  oneGarden:
    'Before any figure: here one garden stands for one method. What differs may come from the method or from the ' +
    'ground, and these figures cannot tell them apart.',
  none: 'There is nothing to compare yet. It takes a season, and a method on each of two gardens.',
  allCrops: 'All crops, as they were grown',
  allCropsSay:
    'Each method with all that was grown under it. Unlike crops weigh differently: this table says what came off ' +
    'the ground, not how well a method grows.',
  matched: 'Matched crops',
  matchedSay:
    'Only the cultivars that stood under every method and are cleared, in kilograms per square metre planted. ' +
    'The last row weighs them alike for every method: by the area planted to each over all methods.',
  seasonsOfMethod: 'Seasons in which it lay',
  joinable: (crops: readonly string[], season: string) =>
    `${listed(crops, 'and')} stood under every method in ${season} and ` +
    `${plural(crops.length, { one: 'is', other: 'are' })} ` +
    `cleared, but in no matched set: joined to one, ${plural(crops.length, { one: 'it', other: 'they' })} would ` +
    'count here.',
  joinThem: 'Join them under the season',
  noMatched: 'No cultivar has stood under every method and been cleared yet.',
  commonMix: 'All of these, in the same mix',
  measure: 'Measure',
  crop: 'Crop',
  soFar: 'so far',
  atLeast: 'at least',
  weeksOpen: 'so far as written down; hours are open',
  nothing: 'none yet',
  json: 'as JSON',
  files: 'These figures',
  csv: 'as CSV',
  coverage: {
    hoursClosed: 'Weeks with hours closed',
    weightsClosed: 'Weeks with weights closed',
    paper: 'Entries read off paper',
    late: 'Entries written more than 14 days after',
  },
  readTwice: (pairs: number, error: string, apart: string) =>
    `How well it is weighed: ${pairs} weights were written down by two people, and one reading has an error (one ` +
    `standard deviation) of about ${error}; in the mean the second reading lay ${apart} from the first. ` +
    'Differences smaller than this can be the scales.',
  notReadTwice: (pairs: number) =>
    'How well it is weighed is not known: it takes two weights written down by two people, and there ' +
    `${plural(pairs, { one: 'is one', other: 'are none' })}.`,
  of: (closed: number, all: number) => `${closed} of ${all}`,
  restsOnArea: (area: string, plantings: number) =>
    `on ${area}, ${plantings} ${plural(plantings, { one: 'planting', other: 'plantings' })}`,
  restsOnWeeks: (closed: number, all: number) => `${closed} of ${all} weeks closed`,
  restsOnKg: (kg: string) => `on ${kg}`,
  howMade: 'How it is made',
  otherwise: {
    title: 'Counted another way',
    say:
      'All that was grown, by method, garden, bed or crop, under rules of your choice. The address keeps the ' +
      'choice: it can be sent on.',
    choose: 'Choose how to count',
    by: 'For each',
    bys: { method: 'method', garden: 'garden', bed: 'bed', crop: 'crop' },
    rules: {
      weights: 'Weights',
      area: 'Area',
      harvestWork: 'Harvest, washing and packing',
      establishing: 'Work and inputs of establishing',
      ownMade: 'The group’s own compost',
      mix: 'Mix of the matched crops in the findings',
      outside: 'Matched sets that lost plants to a cause outside the method',
    },
    hints: byName({
      establishing: 'Spread goes by the seasons stated for each method; where none are stated it counts in its season.',
      ownMade: 'Never its value and the hours of making it both.',
    }),
    choices: byName({
      marketable: 'marketable',
      all: 'all',
      bed: 'of bed',
      gross: 'gross, paths included',
      with: 'in the hours',
      without: 'left out of the hours',
      counted: 'counted as they are',
      'left out': 'left out',
      spread: 'spread over the stated seasons',
      free: 'free, with the hours of making it',
      valued: 'at its stated value, without those hours',
      'pooled areas': 'by the area planted to them',
      'equal parts': 'every crop alike',
      'set left out': 'left out in all gardens',
    }),
    planted: 'Planted',
    kgPerM2: 'kg per m² planted',
    notWritten: 'not written by crop',
    cropSay:
      'Hours and inputs of a crop are those that were written for its plantings, and no more: what was written ' +
      'for a garden or a bed is not in them.',
    count: 'Count it so',
  },
  unpriced: (count: number) => `${count} without a price`,
}
