package io.evenwarm.monitor.notice;

import java.time.Instant;

/**
 * A delivery as the store keeps it until it ended.
 *
 * @param person as the settings name them
 * @param channel as the settings name it
 * @param tries how often it was tried
 * @param added since when it is there, by the wall clock of then
 * @param nextTry when it is due, by the wall clock of the last try
 */
public record PendingDelivery(
        Notice notice, String person, String channel, int tries, Instant added, Instant nextTry) {

    public DeliveryKey key() {
        return new DeliveryKey(notice.id(), person, channel);
    }
}
