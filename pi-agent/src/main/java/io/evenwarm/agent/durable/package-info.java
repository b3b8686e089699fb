/**
 * Small synced files that must outlive a power cut, apart from the journal: latches, commanded set
 * points, what guard has learned. An unreadable latch file means latched.
 */
@NullMarked
package io.evenwarm.agent.durable;

import org.jspecify.annotations.NullMarked;
