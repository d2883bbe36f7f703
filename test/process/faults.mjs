// Every fault after another, whatever became of the one before; ends with 1 where one ended badly.
import { spawnSync } from 'node:child_process'

const faults = ['database-away', 'stopping', 'clock', 'not-reading', 'disk-full', 'storing-killed']
let failed = false
for (const fault of faults) {
  process.stdout.write(`\n${fault}\n`)
  const { status } = spawnSync('npx', ['tsx', `test/process/${fault}.ts`], { stdio: 'inherit' })
  failed ||= status !== 0
}
process.exit(failed ? 1 : 0)
