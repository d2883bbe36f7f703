import { execFileSync } from 'node:child_process'

/** The service is started as its users start it: built. */
export default () => execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' })
