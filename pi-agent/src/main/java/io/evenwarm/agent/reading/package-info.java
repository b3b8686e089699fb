/**
 * Samples to readings: range, rate, age, power-on value, checksum. The only place that looks at a
 * sample.
 *
 * <p>Pure: imports no clock, thread, I/O or logging type and is given {@code now}. Called by the
 * control thread only.
 */
@NullMarked
package io.evenwarm.agent.reading;

import org.jspecify.annotations.NullMarked;
