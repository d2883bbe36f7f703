import type { z } from 'zod'
import { wordsHere } from '../web/words-here.ts'
import { keptInput } from './deliveries.queries.ts'
import type { heapEntryForm, heapForm, heapReadyForm } from './heaps.form.ts'
import { addToLog, heapForWriting, saveHeap, sayReady } from './heaps.queries.ts'
import { type InputErrors, type InputWriting, todayHere } from './writing.routes.ts'

const words = () => wordsHere().heaps
const nothingAnalysed = {
  moisturePermille: null,
  densityKgPerM3: null,
  source: null,
  nitrogenMgPerKg: null,
  phosphorusMgPerKg: null,
  potassiumMgPerKg: null,
}

/** A heap of the group's own and the input that it will be: own compost in m3 where none of that name is known. */
export async function startHeap({ tx, author, request }: InputWriting, given: z.output<typeof heapForm>) {
  if (given.startedOn > todayHere(request)) return { startedOn: wordsHere().inputs.dayAhead }
  const { id, name, startedOn, inputName } = given
  const inputId = await keptInput(tx, author, {
    name: inputName,
    kind: 'compost',
    unit: 'm3',
    usefulLifeSeasons: 1,
    ownMade: true,
    rawManure: null,
    analysis: nothingAnalysed,
  })
  await saveHeap(tx, author, { id, inputId, name, startedOn })
}

export async function writeToHeap(
  at: InputWriting,
  given: z.output<typeof heapEntryForm>,
): Promise<InputErrors | void> {
  const { heapId, ...entry } = given
  const heap = await heapForWriting(at.tx, at.author.groupId, heapId)
  if (!heap) return { heapId: wordsHere().fields.notChosen }
  if (entry.day > todayHere(at.request)) return { day: wordsHere().inputs.dayAhead }
  if (entry.day < heap.startedOn) return { day: words().beforeStart }
  await addToLog(at.tx, heap, entry)
}

export async function heapIsReady(
  at: InputWriting,
  given: z.output<typeof heapReadyForm>,
): Promise<InputErrors | void> {
  const heap = await heapForWriting(at.tx, at.author.groupId, given.heapId)
  if (!heap) return { heapId: wordsHere().fields.notChosen }
  if (given.readyOn > todayHere(at.request)) return { readyOn: wordsHere().inputs.dayAhead }
  if (given.readyOn < heap.startedOn) return { readyOn: words().readyFirst }
  await sayReady(at.tx, heap, given.readyOn)
}
