import type { TrialRecord } from './trial-record.ts'

/**
 * What is made of a record, made once for each that was read and for what it is asked with, which is plain data: a page
 * and the tables that are kept with a report ask for the same.
 */
export function onceForRecord<Asked extends readonly unknown[], Made>(
  make: (record: TrialRecord, ...asked: Asked) => Made,
): (record: TrialRecord, ...asked: Asked) => Made {
  const made = new WeakMap<TrialRecord, Map<string, { readonly known: Made }>>()
  return (record, ...asked) => {
    const ofRecord = made.get(record) ?? new Map<string, { readonly known: Made }>()
    made.set(record, ofRecord)
    const key = JSON.stringify(asked)
    const one = ofRecord.get(key) ?? { known: make(record, ...asked) }
    ofRecord.set(key, one)
    return one.known
  }
}
