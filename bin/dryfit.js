#!/usr/bin/env node
// Starts the command line with the compiled code that the build laid beside it (`cli.code`), so that little is left
// to compile. Code of another Node, or none, is no fault: the engine sees that, and compiles the text as always.
const { existsSync, readFileSync } = require('node:fs');
const { join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

// A check is over in about a second: a function has to be asked far more often than usual to be worth its optimising.
setFlagsFromString('--interrupt-budget=500000');

const text = join(__dirname, '../dist/cli.cjs');
if (!existsSync(text)) {
  process.stderr.write('Dryfit is not set up yet: run npm ci in its folder first.\n');
  process.exit(3);
}
let cachedData;
try {
  cachedData = readFileSync(join(__dirname, '../dist/cli.code'));
} catch {
  // Not recorded: the text does.
}
const script = new Script(readFileSync(text, 'utf8'), { filename: text, cachedData });
script.runInThisContext()(require, text);
module.exports = script;
