import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { open } from 'node:fs/promises'
import type { Readable } from 'node:stream'
import { CsvError, parse } from 'csv-parse'
import { parse as parseAtOnce } from 'csv-parse/sync'
import { firstOf } from '../lookups/nth.ts'

const longestRecord = 32 * 1024 * 1024

/**
 * The records of a file that `exactLine` wrote, heading first: nothing between the commas is null, two quote marks are
 * an empty text. Tells the SHA-256 of what was read at its end; throws where the file is no such file.
 */
export async function* exactRecords(
  bytes: Readable,
  tell: (sha256: string) => void,
): AsyncGenerator<readonly (string | null)[]> {
  const hash = createHash('sha256')
  bytes.on('data', (chunk: Buffer) => hash.update(chunk))
  const parser = parse({ record_delimiter: '\r\n', max_record_size: longestRecord, raw: true })
  bytes.on('error', (error) => parser.destroy(error))
  bytes.pipe(parser)
  for await (const { record, raw } of parser as AsyncIterable<{ record: string[]; raw: string }>)
    yield emptyText.test(raw) ? exactRecord(raw) : record.map((value) => (value === '' ? null : value))
  tell(hash.digest('hex'))
}

/** Two quote marks that may be a field by themselves; within a text they may stand so too. */
const emptyText = /(?:^|,)""(?:,|\r|$)/

/** To tell whether a field was quoted takes several times as long as to read it: it is asked where it counts. */
function exactRecord(raw: string): (string | null)[] {
  const cast = (value: string, { quoting }: { quoting: boolean }) => (value === '' && !quoting ? null : value)
  // The raw text ends within the two characters that part records.
  return firstOf(
    parseAtOnce(raw.replace(/\r$/, ''), { record_delimiter: '\r\n', max_record_size: longestRecord, cast }),
  )
}

interface TypedLine {
  /** As an editor counts it; of a record over several lines the last. */
  readonly line: number
  readonly cells: readonly string[]
}

/** What a file as people make them turns out to be: its lines in order, or where it cannot be read further. */
export type TypedRecord =
  | ({ readonly kind: 'answer' } & TypedLine)
  | { readonly kind: 'refused'; readonly line: number }

/**
 * The records of a file that was typed or written by a spreadsheet, as many at once as were read at once: parted by
 * comma, semicolon or tab, as its heading is. To hand each on by itself took as long as to read it.
 */
export async function* typedRecords(file: string): AsyncGenerator<readonly TypedRecord[]> {
  let records: TypedRecord[] = []
  let line = 1
  const parser = parse({
    delimiter: await delimiterOf(file),
    bom: true,
    relax_column_count: true,
    skip_empty_lines: true,
    skip_records_with_empty_values: true,
    max_record_size: longestLine,
    on_record: (record: string[], { lines }) => {
      line = lines
      records.push({ kind: 'answer', line, cells: record })
      return null
    },
  })
  // What is wrong is told to whoever wrote.
  parser.on('error', () => undefined).resume()
  const taken = () => {
    const all = records
    records = []
    return all
  }
  try {
    for await (const chunk of createReadStream(file)) {
      await written((told) => parser.write(chunk, told))
      yield taken()
    }
    await written((told) => parser.end(told))
    yield taken()
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    yield [...taken(), { kind: 'refused', line: line + 1 }]
  } finally {
    parser.destroy()
  }
}

type Told = (error?: Error | null) => void

const written = (write: (told: Told) => void) =>
  new Promise<void>((done, failed) => write((error) => (error ? failed(error) : done())))

const longestLine = 64 * 1024

/** The one of the three that stands most often in the first line. */
async function delimiterOf(file: string): Promise<string> {
  const first = await firstLine(file)
  const times = (delimiter: string) => first.split(delimiter).length
  return [',', ';', '\t'].reduce((best, one) => (times(one) > times(best) ? one : best))
}

async function firstLine(file: string): Promise<string> {
  const handle = await open(file)
  try {
    const { buffer, bytesRead } = await handle.read({ buffer: Buffer.alloc(longestLine) })
    return firstOf(buffer.subarray(0, bytesRead).toString('utf8').split(/\r?\n/, 1))
  } finally {
    await handle.close()
  }
}
