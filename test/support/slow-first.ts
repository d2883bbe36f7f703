import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** A sequencer that begins with these files, in their order: a long one that begins last is waited for by all cores. */
export const slowFirst = (slow: readonly string[]) =>
  class extends BaseSequencer {
    override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
      const place = ({ moduleId }: TestSpecification) => {
        const at = slow.findIndex((one) => moduleId.endsWith(`test/${one}.test.ts`))
        return at < 0 ? slow.length : at
      }
      const usual = await super.sort(files)
      return usual.toSorted((a, b) => place(a) - place(b))
    }
  }
