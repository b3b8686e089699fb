package io.evenwarm.monitor.notice;

import java.time.Duration;
import java.util.List;

/**
 * Who is told, in which order.
 *
 * @param chain the people
 * @param again after how long without an acknowledgement the chain begins again
 * @param limits of the queue
 */
public record NoticePlan(List<Contact> chain, Duration again, OutboxLimits limits) {

    public NoticePlan {
        chain = List.copyOf(chain);
    }
}
