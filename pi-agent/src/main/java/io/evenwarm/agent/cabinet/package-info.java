/**
 * A cabinet's state as its readings tell it: process value, spread, which probes are good.
 *
 * <p>Pure: imports no clock, thread, I/O or logging type. Called by the control thread only.
 */
@NullMarked
package io.evenwarm.agent.cabinet;

import org.jspecify.annotations.NullMarked;
