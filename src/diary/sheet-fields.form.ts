import { labour, weight, wholeNumber } from '../web/fields.ts'

/** What the cells of a sheet are read by, made once: to make a field takes longer than to read a cell by it. */
export const cellFields = {
  kg: weight('kg'),
  lb: weight('lb'),
  time: labour(),
  people: wholeNumber({ least: 1, most: 200 }),
  effort: wholeNumber({ least: 1, most: 5 }),
  pieces: wholeNumber({ least: 1, most: 1_000_000 }),
  percent: wholeNumber({ least: 1, most: 100 }),
}
