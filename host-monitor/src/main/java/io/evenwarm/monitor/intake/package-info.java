/**
 * Links to agents: connects, reconnects, catches up on history, hands live snapshots on.
 *
 * <p>Knows no SQL and no window.
 */
@NullMarked
package io.evenwarm.monitor.intake;

import org.jspecify.annotations.NullMarked;
