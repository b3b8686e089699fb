/**
 * Whether a cabinet is even, whether it is more even than before, whether its fan still moves the
 * air, and whether its probes can be believed.
 *
 * <p>Knows no clock, thread, file, log, window or SQL: it is given {@link
 * io.evenwarm.monitor.history.Curve curves} and gives figures with their uncertainties, and words
 * for a person. {@link io.evenwarm.monitor.evenness.Survey} and {@link
 * io.evenwarm.monitor.evenness.Comparison} answer the first two questions, {@link
 * io.evenwarm.monitor.evenness.FanWatch} the third, {@link io.evenwarm.monitor.evenness.ProbeCheck}
 * and {@link io.evenwarm.monitor.evenness.Disagreement} the last. {@link
 * io.evenwarm.monitor.evenness.ProbeRecord} knows which offset was in force when, and {@link
 * io.evenwarm.monitor.evenness.CabinetAir} goes through a cabinet's long record. What holds state
 * is used by one thread at a time.
 *
 * <p>Names of quantities are those of IEC 60068-3-5 and DIN 12880. The standards' texts are cited
 * from memory where no clause is named.
 */
@NullMarked
package io.evenwarm.monitor.evenness;

import org.jspecify.annotations.NullMarked;
