/**
 * Links to agents: connects, reconnects, catches up on history, hands live snapshots on.
 *
 * <p>{@link io.evenwarm.monitor.intake.Intake} is the front; it has one worker thread an agent and
 * one that watches the workers. Knows no SQL, no window and no kind of link.
 */
@NullMarked
package io.evenwarm.monitor.intake;

import org.jspecify.annotations.NullMarked;
