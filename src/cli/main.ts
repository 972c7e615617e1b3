import { Argument, Command, CommanderError, Option } from 'commander';
import { VERSION } from '../report/version.ts';
import { BENCH_FORMATS, EXIT, FORMATS } from './exit.ts';
import { reasonOf } from './files.ts';
import { faultsOf, faultText, say } from './say.ts';

const list = (value: string, before: readonly string[] = []): readonly string[] => [
  ...before,
  ...value.split(',').filter((id) => id !== ''),
];

const FORMAT_HELP =
  "what to write; unless given, what the output's ending says (such as .html), or else the first of these";

/** The command line: what a maker can ask, and nothing else. Each command's work is loaded when it is asked for. */
function program(done: (status: number) => void): Command {
  const dryfit = new Command('dryfit')
    .description('Checks a V-bit inlay before the cut: do pocket and plug close, and what would stop them?')
    .version(VERSION, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .showHelpAfterError('Ask "dryfit --help" for what can be asked.')
    .exitOverride();

  addCheck(dryfit, done);

  dryfit
    .command('explain')
    .description('what a check asks, why wood cares, how to mend it; without an id, the list of checks')
    .argument('[id]', 'the id of a check, such as depth.glue, or a command, such as choose')
    .action(async (id: string | undefined) => {
      const { explain } = await import('./explain.ts');
      done(await explain(id));
    });

  dryfit
    .command('sheet')
    .description(
      'the bench sheet of a job: numbers to set, order of work, what to measure; to print or to read',
    )
    .argument('<job>', 'a job file (NAME.dryfit.yaml)')
    .addOption(new Option('-f, --format <format>', FORMAT_HELP).choices(BENCH_FORMATS))
    .option(
      '-o, --output <path>',
      'write the sheet to a file instead of the screen; never over a drawing or a job',
    )
    .addHelpText(
      'after',
      '\nA job that fails has its sheet too, and says so on top. Exit status as of check.',
    )
    .action(async (job: string, settings) => {
      const { benchSheetOf } = await import('./bench-sheet.ts');
      done(await benchSheetOf(job, settings));
    });

  dryfit
    .command('lesson')
    .description('the common mistakes, one design each; with a number, the design and the question')
    .argument('[number]', 'which one')
    .option('--answer', 'tell what is wrong with it, why it matters and how to mend it')
    .option('--html <path>', 'write a handout to a file; with --answer, its answer sheet')
    .action(async (number: string | undefined, settings) => {
      const { lesson } = await import('./lesson.ts');
      done(await lesson(number, settings));
    });

  dryfit
    .command('woods')
    .description('the woods there are figures of; with a name, the figures of one and their sources')
    .argument('[name...]', 'a wood, such as black cherry')
    .action(async (name: string[]) => {
      const { woods } = await import('./woods.ts');
      done(woods(name.length === 0 ? undefined : name.join(' ')));
    });

  dryfit
    .command('hook')
    .description('check the jobs a commit would change, before it is made: set up, take away, or run now')
    .addArgument(new Argument('<what>', 'what to do').choices(['install', 'remove', 'run']))
    .option('--care-fails', 'hold the commit back on PASS WITH CARE too')
    .option('--all', 'with run: check every job of the repository as it is staged')
    .action(async (what: string, settings) => {
      const { hook } = await import('./hook.ts');
      done(await hook(what, settings));
    });

  dryfit
    .command('begin')
    .description('begin a job file from two drawings: fills in what they tell, and asks for the rest')
    .argument('<pocket>', "the pocket's drawing: NAME.svg or NAME.svg#id")
    .argument('<plug>', "the plug's drawing, as it will be cut")
    .option('-o, --output <path>', 'the job file to write; beside the pocket unless given')
    .action(async (pocket: string, plug: string, settings) => {
      const { begin } = await import('./begin.ts');
      done(await begin(pocket, plug, settings));
    });

  addWhy(dryfit, done);
  addRecut(dryfit, done);
  addChoose(dryfit, done);

  for (const command of dryfit.commands)
    command.showHelpAfterError(`Ask "dryfit ${command.name()} --help" for how it is called.`);
  return dryfit;
}

function addWhy(dryfit: Command, done: (status: number) => void): void {
  dryfit
    .command('why')
    .description('from what is seen at a test fit back to what may be wrong, and what to measure next')
    .argument('<job>', 'the job file of the cut')
    .argument('[seen]', 'a file NAME.seen.yaml that says what was measured; on a terminal it is asked for')
    .addOption(new Option('-f, --format <format>', 'what to write').choices(['text', 'json']).default('text'))
    .option('--keep <file>', 'write what you answered to a new file, to add a further measurement to')
    .addHelpText(
      'after',
      '\nExit status: 0 something explains it or nothing need be wrong, 1 nothing weighed\nexplains it, 2 the job does not say enough, 3 not readable or a wrong call.',
    )
    .action(async (job: string, seen: string | undefined, settings) => {
      const { whyJob } = await import('./why.ts');
      done(await whyJob(job, seen, settings));
    });
}

function addRecut(dryfit: Command, done: (status: number) => void): void {
  dryfit
    .command('recut')
    .description('save a board: the second cut that takes everything of a failed first one, and its new pair')
    .argument('<job>', 'the job file of the first cut')
    .argument('[seen]', 'a file NAME.recut.yaml that says what went wrong; or say it by flags')
    .addOption(new Option('-f, --format <format>', 'what to write').choices(['text', 'json']).default('text'))
    .option('-o, --output <folder>', 'write the new drawings, their job and a plan there, if they pass')
    .option('--plan <file>', 'write the plan of old against new (SVG), whatever the answer')
    .option('--overwrite', 'replace files that are there already')
    .optionsGroup('What went wrong (lengths as in the job):')
    .option('--glue <length>', "how far glue has gone into the board's wood; 0 when nothing was glued")
    .option('--gap <length>', 'the widest line seen at the rim, as if the pocket were so much too wide')
    .option('--damage <length>', 'how far chips, filler or stain reach beyond the old rim')
    .option('--floor-damage <length>', 'how far below the old floor the wood is hurt')
    .option('--pocket-too-deep <length>', 'how much deeper than the job says the pocket was cut')
    .option('--pocket-too-shallow <length>', 'how much shallower')
    .optionsGroup('How well the board can be set up again:')
    .option('--setup-shift <length>', 'how far the middle of the inlay may lie off its old place')
    .option('--setup-turn <angle>', 'how far the board may be turned about that middle')
    .option('--setup-zero <length>', 'how far the new depth zero may be off the old one')
    .optionsGroup('In place of the least:')
    .option('--growth <length>', 'try this growth; refused where it would leave old wood')
    .option('--deeper <length>', 'try this extra depth')
    .addHelpText(
      'after',
      '\nExit status: 0 can be saved, 1 not this way, 2 the job does not say enough,\n3 not readable or a wrong call.',
    )
    .action(async (job: string, seen: string | undefined, settings) => {
      const { recutJob } = await import('./recut.ts');
      done(await recutJob(job, seen, settings));
    });
}

function addChoose(dryfit: Command, done: (status: number) => void): void {
  dryfit
    .command('choose')
    .description(
      'which bit and which depths make this design pass with the widest margin, or what would have to change',
    )
    .argument('<job>', 'a job file (NAME.dryfit.yaml)')
    .option('-b, --bits <file>', "a list of the bits there are; without it the job's own and common ones")
    .option('-w, --write', 'write the choice as a new job file beside the old one, if it passes')
    .addOption(new Option('-f, --format <format>', 'what to write').choices(['text', 'json']).default('text'))
    .addHelpText(
      'after',
      `
A list of bits looks like this:
  units: mm
  bits:
    - name: fine
      angle: 30 deg
      tip-flat: 0.1
      cutting-length: 20
      cutting-diameter: 6.35
    - name: wide
      angle: 60 deg
      tip-flat: 0.2
      cutting-length: 10
      cutting-diameter: 12.7

Every bit takes some seconds. Nothing is ever overwritten.
Exit status: 0 chosen, 1 nothing passes, 2 the job does not say enough,
3 not readable or a wrong call.`,
    )
    .action(async (job: string, settings) => {
      const { chooseFor } = await import('./choose.ts');
      done(await chooseFor(job, settings));
    });
}

function addCheck(dryfit: Command, done: (status: number) => void): void {
  dryfit
    .command('check')
    .description('measure one or more jobs and say PASS, PASS WITH CARE, FAIL or CANNOT TELL')
    .argument('[job...]', 'job files (NAME.dryfit.yaml)')
    .addOption(new Option('-f, --format <format>', FORMAT_HELP).choices(FORMATS))
    .option(
      '-o, --output <path>',
      'write the report to a file instead of the screen; never over a drawing or a job',
    )
    .option('--only <id>', 'ask only these checks (repeat, or separate by commas)', list)
    .option('--skip <id>', 'leave these checks out (repeat, or separate by commas)', list)
    .option('--plan', 'draw both outlines in the sheet, with the numbers of its rows; so on a terminal')
    .option('--no-plan', 'leave the drawing out')
    .option('--care-fails', 'end with status 1 on PASS WITH CARE too')
    .optionsGroup('In place of a job file:')
    .option('--pocket <drawing>', "the pocket's outline, NAME.svg or NAME.svg#id")
    .option('--plug <drawing>', "the plug's outline as it will be cut")
    .option('--mirror <who>', 'drawn or toolpath; with toolpath --plug may be left out')
    .option('--units <unit>', 'what a bare number means: mm (unless stated) or in')
    .option('--pocket-depth <depths>', 'start depth and flat depth with a plus between, such as 0+7.6')
    .option('--plug-depth <depths>', 'the same for the plug, such as 5+2.6')
    .option('--angle <degrees>', "the bit's included angle")
    .option('--tip-flat <length>', 'the width of the flat at its tip; 0 is a sharp point')
    .option('--tip-radius <length>', 'the radius of a ball tip')
    .option('--cutting-length <length>', 'the height of its cutting edges')
    .option('--cutting-diameter <length>', 'the widest diameter its edges cut')
    .option('--pocket-thickness <length>', 'the thickness of the board')
    .option('--plug-thickness <length>', 'the thickness of the plug stock')
    .addHelpText(
      'after',
      '\nExit status: 0 PASS or PASS WITH CARE, 1 FAIL, 2 CANNOT TELL,\n3 not readable or a wrong call.',
    )
    .action(async (jobs: string[], settings) => {
      const { check } = await import('./check.ts');
      done(await check(jobs, settings));
    });
}

/** Runs one call and returns its exit status. */
async function main(words: readonly string[]): Promise<number> {
  let status: number = EXIT.good;
  try {
    await program((given) => {
      status = given;
    }).parseAsync([...words], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.good : EXIT.unreadable;
    const faults = faultsOf(error);
    if (faults !== undefined) {
      for (const fault of faults) say(faultText(fault));
      return EXIT.unreadable;
    }
    say(
      `Dryfit itself went wrong, so there is no answer for this job. Please report it with the job and drawings.`,
    );
    say(process.env['DRYFIT_TRACE'] ? String((error as Error)?.stack ?? error) : `(${String(error)})`);
    return EXIT.unreadable;
  }
}

// A reader that stops early (a pager, head) closes the pipe; that is its right, and the status is still the answer's.
// Any other end of the output is told, and is never a good status.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') return;
  process.exitCode = EXIT.unreadable;
  say(`What was found could not be written: ${reasonOf(error).toLowerCase()}.`);
});
// Nobody is left to be told.
process.stderr.on('error', () => {});
main(process.argv.slice(2)).then((status) => {
  process.exitCode = Math.max(status, Number(process.exitCode ?? EXIT.good));
});
