/**
 * Whether a cabinet is even, and whether it is more even than before.
 *
 * <p>Knows no clock, thread, file, log, window or SQL: it is given {@link
 * io.evenwarm.monitor.history.Curve curves} and gives figures with their uncertainties, and words
 * for a person. {@link io.evenwarm.monitor.evenness.Survey} answers the first question, {@link
 * io.evenwarm.monitor.evenness.Comparison} the second.
 *
 * <p>Names of quantities are those of IEC 60068-3-5 and DIN 12880. The standards' texts are cited
 * from memory where no clause is named.
 */
@NullMarked
package io.evenwarm.monitor.evenness;

import org.jspecify.annotations.NullMarked;
