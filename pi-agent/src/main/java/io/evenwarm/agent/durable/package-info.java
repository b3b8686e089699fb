/**
 * Small synced files that must outlive a power cut, apart from the journal: latches and commanded
 * set points. An unreadable latch file means latched.
 */
@NullMarked
package io.evenwarm.agent.durable;

import org.jspecify.annotations.NullMarked;
