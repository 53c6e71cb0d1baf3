import { backPower } from './back-power.ts';
import { biasLost } from './bias-lost.ts';
import { chainBroken } from './chain-broken.ts';
import { chainStartedTwice } from './chain-started-twice.ts';
import { contactOverload } from './contact-overload.ts';
import { dateOdd } from './date-odd.ts';
import { driversFight } from './drivers-fight.ts';
import { groundMissing } from './ground-missing.ts';
import { guessCarriesPower } from './guess-carries-power.ts';
import { keyMissing } from './key-missing.ts';
import { keyPointless } from './key-pointless.ts';
import { lineNoPullUp } from './line-no-pull-up.ts';
import { lineOverTerminated } from './line-over-terminated.ts';
import { lineOverloaded } from './line-overloaded.ts';
import { lineUndriven } from './line-undriven.ts';
import { lineUnheard } from './line-unheard.ts';
import { lineUnterminated } from './line-unterminated.ts';
import { mateShifted } from './mate-shifted.ts';
import { mateTurned } from './mate-turned.ts';
import { mateWrongSlot } from './mate-wrong-slot.ts';
import { nameClash } from './name-clash.ts';
import { neighbourHazard } from './neighbour-hazard.ts';
import { partUnknown } from './part-unknown.ts';
import { portUnexplained } from './port-unexplained.ts';
import { pullUpOutOfRange } from './pull-up-out-of-range.ts';
import { pullUpTooHigh } from './pull-up-too-high.ts';
import { railConflict } from './rail-conflict.ts';
import { railDrop } from './rail-drop.ts';
import { railMeetsSignal } from './rail-meets-signal.ts';
import { railMissing } from './rail-missing.ts';
import { railOrder } from './rail-order.ts';
import { railUnfed } from './rail-unfed.ts';
import { railUnused } from './rail-unused.ts';
import { railsParalleled } from './rails-paralleled.ts';
import { readingContradicts } from './reading-contradicts.ts';
import { readingShort } from './reading-short.ts';
import { regulatorWrong } from './regulator-wrong.ts';
import { ribbonCrossed } from './ribbon-crossed.ts';
import { ribbonOver } from './ribbon-over.ts';
import { ribbonTurned } from './ribbon-turned.ts';
import { ribbonWrongPort } from './ribbon-wrong-port.ts';
import { stripeUnsaid } from './stripe-unsaid.ts';
import { supplyOverload } from './supply-overload.ts';
import { terminatorMisplaced } from './terminator-misplaced.ts';
import type { Rule } from './types.ts';
import { vectorGap } from './vector-gap.ts';

/** Every rule, in the order of the sections of the manual. One rule, one file. */
export const rules: readonly Rule[] = [
  railConflict,
  railMeetsSignal,
  railMissing,
  biasLost,
  groundMissing,
  railsParalleled,
  railUnused,
  railUnfed,
  supplyOverload,
  contactOverload,
  railDrop,
  regulatorWrong,
  railOrder,
  pullUpTooHigh,
  backPower,
  driversFight,
  lineNoPullUp,
  lineUnterminated,
  lineOverTerminated,
  terminatorMisplaced,
  lineOverloaded,
  pullUpOutOfRange,
  neighbourHazard,
  mateTurned,
  mateShifted,
  mateWrongSlot,
  ribbonTurned,
  ribbonOver,
  ribbonWrongPort,
  keyPointless,
  keyMissing,
  ribbonCrossed,
  lineUndriven,
  lineUnheard,
  chainBroken,
  chainStartedTwice,
  vectorGap,
  nameClash,
  guessCarriesPower,
  readingContradicts,
  readingShort,
  partUnknown,
  portUnexplained,
  stripeUnsaid,
  dateOdd,
];
