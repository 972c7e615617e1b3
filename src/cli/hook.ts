import { InputFault } from '../fault.ts';
import { EXIT } from './exit.ts';
import { hookInstall, hookRemove } from './hook-install.ts';
import { type HookRunSettings, hookRun } from './hook-run.ts';

/** Sets up, takes away or runs the check of staged jobs before a commit. Returns the exit status. */
export async function hook(what: string, settings: HookRunSettings): Promise<number> {
  if (what === 'run') return hookRun(settings);
  if (settings.all === true) throw new InputFault(`--all goes with "dryfit hook run" only.`);
  if (what === 'install') hookInstall(settings.careFails === true);
  else hookRemove();
  return EXIT.good;
}
