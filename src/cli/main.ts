import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { version } from '../../package.json';
import { MARKS_SHOWN } from '../drawing/bus-layout.ts';
import { VIEWS } from '../drawing/to-host.ts';
import { CASES_SHOWN } from '../drawing/what-if-choice.ts';
import { checkCommand } from './check.ts';
import { drawCommand } from './draw.ts';
import { Trouble } from './files.ts';
import { formatCommand } from './format.ts';
import { mismateCommand } from './mismate.ts';
import { netsCommand } from './nets.ts';
import { explainCommand, rulesCommand } from './rules.ts';

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text)) throw new InvalidArgumentError('It is a whole number from 1.');
  return Number(text);
}

/** Exit codes: 0 nothing found, 1 findings, 2 unreadable input or wrong usage. */
async function run(): Promise<number> {
  let code = 0;
  const program = new Command('cardcage')
    .description('Checks pinout files: what is dangerous in a card cage, before anything is plugged in.')
    .version(version)
    .exitOverride()
    .showHelpAfterError('(cardcage --help shows how)');

  program
    .command('check')
    .description('say what is wrong, dangerous or unknown in these machines')
    .argument('<path...>', 'pinout files, or folders that hold them')
    .addOption(
      new Option('--format <format>', 'how to print').choices(['text', 'json', 'sarif']).default('text'),
    )
    .addOption(
      new Option('--fail-on <severity>', 'lowest severity that makes the exit code 1')
        .choices(['error', 'warning', 'never'])
        .default('error'),
    )
    .action((paths, options) => {
      code = checkCommand(paths, options, version);
    });
  program
    .command('nets')
    .description('list which contacts are joined')
    .argument('<file>')
    .addOption(new Option('--format <format>', 'how to print').choices(['text', 'json']).default('text'))
    .option('--of <contact|signal>', 'only the net of this contact, or those that carry this name')
    .action((file, options) => {
      code = netsCommand(file, options);
    });
  program
    .command('mismate')
    .description(
      'say what every wrong way to plug in a board, a ribbon or a cable does, and what prevents it',
    )
    .argument('<file>')
    .option(
      '--of <board|ribbon>',
      'only this board, card, ribbon or cable, or one end of it ("W1 at CPU.J1"), in every way',
    )
    .addOption(new Option('--format <format>', 'how to print').choices(['text', 'json']).default('text'))
    .action((file, options) => {
      code = mismateCommand(file, options);
    });
  program
    .command('draw')
    .description(
      'draw a bus with its boards, a connector face, a ribbon with its build sheet, or a wrong way to plug something in, as SVG',
    )
    .argument('<file>')
    .addOption(new Option('--view <view>', 'what to draw').choices(VIEWS).default('bus'))
    .option('--of <name>', 'which: CAGE.MAIN, CAGE.3, CPU.J2, EDGE44, W1; not needed where there is one only')
    .addOption(
      new Option('--marks <marks>', 'what the marks of a bus show').choices(MARKS_SHOWN).default('role'),
    )
    .addOption(
      new Option('--side <side>', 'from where a connector is seen')
        .choices(['mating', 'wiring'])
        .default('mating'),
    )
    .addOption(
      new Option('--scale <scale>', 'a connector to read, or life-size to lay beside it')
        .choices(['reading', '1:1'])
        .default('reading'),
    )
    .addOption(
      new Option(
        '--cases <cases>',
        'which wrong ways a what-if counts through: those that do harm or cannot be judged and that nothing prevents, or all',
      )
        .choices(CASES_SHOWN)
        .default('open'),
    )
    .addOption(
      new Option('--case <number>', 'which of them, the worst first').argParser(wholeNumber).default(1),
    )
    .option('-o, --output <file>', 'write to this file instead of the terminal')
    .action((file, options) => {
      code = drawCommand(file, options);
    });
  program
    .command('format')
    .description('print files in canonical form, or check or rewrite them')
    .argument('<file...>')
    .addOption(new Option('--check', 'only say which files are not in canonical form').conflicts('write'))
    .option('--write', 'rewrite the files')
    .action(async (files, options) => {
      code = await formatCommand(files, options);
    });
  program
    .command('rules')
    .description('list the rules')
    .addOption(new Option('--format <format>', 'how to print').choices(['text', 'json']).default('text'))
    .action((options) => {
      code = rulesCommand(options);
    });
  program
    .command('explain')
    .description('explain a rule: what it means at the bench, an example, its source')
    .argument('<rule>')
    .action((rule) => {
      code = explainCommand(rule);
    });
  for (const command of program.commands)
    command.exitOverride().showHelpAfterError('(cardcage --help shows how)');

  try {
    await program.parseAsync();
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (error instanceof Trouble) {
      process.stderr.write(`cardcage: ${error.message}\n`);
      return 2;
    }
    throw error;
  }
}

// A reader that closes the pipe early (`| head`) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
run().then((code) => {
  process.exitCode = code;
});
