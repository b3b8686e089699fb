/**
 * Ways to reach a person: what is said, to whom, when again, until somebody acknowledges it.
 *
 * <p>A {@link io.evenwarm.monitor.notice.Notice} is made once by {@link
 * io.evenwarm.monitor.notice.NoticeWriter}. A {@link io.evenwarm.monitor.notice.Channel} hands it
 * to a person; those there are live in {@code notice.channel}. Knows no SQL, no window, no agent
 * and no alarm logic.
 */
@NullMarked
package io.evenwarm.monitor.notice;

import org.jspecify.annotations.NullMarked;
