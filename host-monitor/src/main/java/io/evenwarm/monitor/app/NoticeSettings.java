package io.evenwarm.monitor.app;

import io.evenwarm.monitor.notice.NoticePlan;
import java.util.List;

/**
 * Who is told, and how.
 *
 * @param plan the chain of people; empty when nobody stands in the settings
 * @param channels the ways to them
 */
record NoticeSettings(NoticePlan plan, List<ChannelSettings> channels) {

    NoticeSettings {
        channels = List.copyOf(channels);
    }
}
