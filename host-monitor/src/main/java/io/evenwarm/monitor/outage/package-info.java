/**
 * What went dark in a cabinet's history, and what the eggs went through meanwhile.
 *
 * <p>Knows no clock, thread, file, log, window or SQL: of the monitor it sees history and the
 * thermal model only. {@link io.evenwarm.monitor.outage.OutageFinder} makes events of a history;
 * {@link io.evenwarm.monitor.outage.OutageReview} says what one came to. Nothing reconstructed is
 * ever given out as measured, and what is not known is said in words. All results are immutable.
 */
@NullMarked
package io.evenwarm.monitor.outage;

import org.jspecify.annotations.NullMarked;
