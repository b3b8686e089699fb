package io.evenwarm.monitor.notice;

import java.util.UUID;

/**
 * One notice on its way to one person by one channel. There is only ever one such.
 *
 * @param notice its id
 * @param person as the settings name them
 * @param channel as the settings name it
 */
public record DeliveryKey(UUID notice, String person, String channel) {}
