import allowUnused from './allow-unused.md';
import attributeMissing from './attribute-missing.md';
import attributeTwice from './attribute-twice.md';
import backPower from './back-power.md';
import biasLost from './bias-lost.md';
import blockUnclosed from './block-unclosed.md';
import braceMisplaced from './brace-misplaced.md';
import chainBroken from './chain-broken.md';
import chainStartedTwice from './chain-started-twice.md';
import contactOverload from './contact-overload.md';
import contactUnknown from './contact-unknown.md';
import dateOdd from './date-odd.md';
import driversFight from './drivers-fight.md';
import duplicate from './duplicate.md';
import groundMissing from './ground-missing.md';
import guessCarriesPower from './guess-carries-power.md';
import keyMissing from './key-missing.md';
import keyPointless from './key-pointless.md';
import lineMisplaced from './line-misplaced.md';
import lineNoPullUp from './line-no-pull-up.md';
import lineOverTerminated from './line-over-terminated.md';
import lineOverloaded from './line-overloaded.md';
import lineUndriven from './line-undriven.md';
import lineUnheard from './line-unheard.md';
import lineUnreadable from './line-unreadable.md';
import lineUnterminated from './line-unterminated.md';
import mateShifted from './mate-shifted.md';
import mateTurned from './mate-turned.md';
import mateWrongSlot from './mate-wrong-slot.md';
import nameClash from './name-clash.md';
import nameUnknown from './name-unknown.md';
import neighbourHazard from './neighbour-hazard.md';
import partUnknown from './part-unknown.md';
import pastedForm from './pasted-form.md';
import portUnexplained from './port-unexplained.md';
import pullUpOutOfRange from './pull-up-out-of-range.md';
import pullUpTooHigh from './pull-up-too-high.md';
import railConflict from './rail-conflict.md';
import railDrop from './rail-drop.md';
import railMeetsSignal from './rail-meets-signal.md';
import railMissing from './rail-missing.md';
import railOrder from './rail-order.md';
import railUnfed from './rail-unfed.md';
import railUnused from './rail-unused.md';
import railsParalleled from './rails-paralleled.md';
import rangeMismatch from './range-mismatch.md';
import readingContradicts from './reading-contradicts.md';
import readingShort from './reading-short.md';
import regulatorWrong from './regulator-wrong.md';
import ribbonCrossed from './ribbon-crossed.md';
import ribbonOver from './ribbon-over.md';
import ribbonTurned from './ribbon-turned.md';
import ribbonWrongPort from './ribbon-wrong-port.md';
import stripeUnsaid from './stripe-unsaid.md';
import supplyOverload from './supply-overload.md';
import terminatorMisplaced from './terminator-misplaced.md';
import unitWrong from './unit-wrong.md';
import useCycle from './use-cycle.md';
import useMissing from './use-missing.md';
import useOutside from './use-outside.md';
import vectorGap from './vector-gap.md';
import wordUnknown from './word-unknown.md';

/**
 * The page of explanation of each rule, Markdown, by its id. Apart from the rules, so that a program that opens pages as
 * files need not carry them.
 */
export const pages: ReadonlyMap<string, string> = new Map([
  ['allow-unused', allowUnused],
  ['attribute-missing', attributeMissing],
  ['attribute-twice', attributeTwice],
  ['back-power', backPower],
  ['bias-lost', biasLost],
  ['block-unclosed', blockUnclosed],
  ['brace-misplaced', braceMisplaced],
  ['chain-broken', chainBroken],
  ['chain-started-twice', chainStartedTwice],
  ['contact-overload', contactOverload],
  ['contact-unknown', contactUnknown],
  ['date-odd', dateOdd],
  ['drivers-fight', driversFight],
  ['duplicate', duplicate],
  ['ground-missing', groundMissing],
  ['guess-carries-power', guessCarriesPower],
  ['key-missing', keyMissing],
  ['key-pointless', keyPointless],
  ['line-misplaced', lineMisplaced],
  ['line-no-pull-up', lineNoPullUp],
  ['line-over-terminated', lineOverTerminated],
  ['line-overloaded', lineOverloaded],
  ['line-undriven', lineUndriven],
  ['line-unheard', lineUnheard],
  ['line-unreadable', lineUnreadable],
  ['line-unterminated', lineUnterminated],
  ['mate-shifted', mateShifted],
  ['mate-turned', mateTurned],
  ['mate-wrong-slot', mateWrongSlot],
  ['name-clash', nameClash],
  ['name-unknown', nameUnknown],
  ['neighbour-hazard', neighbourHazard],
  ['part-unknown', partUnknown],
  ['pasted-form', pastedForm],
  ['port-unexplained', portUnexplained],
  ['pull-up-out-of-range', pullUpOutOfRange],
  ['pull-up-too-high', pullUpTooHigh],
  ['rail-conflict', railConflict],
  ['rail-drop', railDrop],
  ['rail-meets-signal', railMeetsSignal],
  ['rail-missing', railMissing],
  ['rail-order', railOrder],
  ['rail-unfed', railUnfed],
  ['rail-unused', railUnused],
  ['rails-paralleled', railsParalleled],
  ['range-mismatch', rangeMismatch],
  ['reading-contradicts', readingContradicts],
  ['reading-short', readingShort],
  ['regulator-wrong', regulatorWrong],
  ['ribbon-crossed', ribbonCrossed],
  ['ribbon-over', ribbonOver],
  ['ribbon-turned', ribbonTurned],
  ['ribbon-wrong-port', ribbonWrongPort],
  ['stripe-unsaid', stripeUnsaid],
  ['supply-overload', supplyOverload],
  ['terminator-misplaced', terminatorMisplaced],
  ['unit-wrong', unitWrong],
  ['use-cycle', useCycle],
  ['use-missing', useMissing],
  ['use-outside', useOutside],
  ['vector-gap', vectorGap],
  ['word-unknown', wordUnknown],
]);
