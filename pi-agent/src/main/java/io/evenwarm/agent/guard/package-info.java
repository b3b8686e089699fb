/**
 * Whether heat is allowed: limits, latch, findings, and the output gate that has the last word.
 *
 * <p>Pure: imports no clock, thread, I/O or logging type, shares no mutable state with {@code
 * control}, and no set point or tuning can widen its limits. Called by the control thread only.
 */
@NullMarked
package io.evenwarm.agent.guard;

import org.jspecify.annotations.NullMarked;
