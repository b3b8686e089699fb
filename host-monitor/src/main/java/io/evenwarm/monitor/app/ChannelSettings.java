package io.evenwarm.monitor.app;

import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.channel.MailChannel;
import io.evenwarm.monitor.notice.channel.MailServer;
import io.evenwarm.monitor.notice.channel.MqttBroker;
import io.evenwarm.monitor.notice.channel.MqttChannel;
import io.evenwarm.monitor.notice.channel.ProgramChannel;
import io.evenwarm.monitor.notice.channel.SoundChannel;
import io.evenwarm.monitor.notice.channel.WebHookChannel;
import io.evenwarm.monitor.notice.channel.WebHookTarget;
import java.time.Duration;
import java.util.List;

/** One {@code [[channel]]}. */
sealed interface ChannelSettings {

    /** As persons name it. */
    String name();

    /** The word for its kind. */
    String kind();

    /** Makes it; one that keeps a connection begins to connect. */
    Channel open(WallClock clock);

    /** {@code kind = "mail"}. */
    record Mail(String name, MailServer server) implements ChannelSettings {
        @Override
        public String kind() {
            return "mail";
        }

        @Override
        public Channel open(WallClock clock) {
            return new MailChannel(name, server);
        }
    }

    /** {@code kind = "web-hook"}. */
    record WebHook(String name, WebHookTarget target) implements ChannelSettings {
        @Override
        public String kind() {
            return "web-hook";
        }

        @Override
        public Channel open(WallClock clock) {
            return new WebHookChannel(name, target, clock);
        }
    }

    /** {@code kind = "mqtt"}. */
    record Mqtt(String name, MqttBroker broker) implements ChannelSettings {

        private static final Duration AGAIN = Duration.ofSeconds(5);

        @Override
        public String kind() {
            return "mqtt";
        }

        @Override
        public Channel open(WallClock clock) {
            return MqttChannel.start(name, broker, AGAIN);
        }
    }

    /** {@code kind = "sound"}. */
    record Sound(String name) implements ChannelSettings {
        @Override
        public String kind() {
            return "sound";
        }

        @Override
        public Channel open(WallClock clock) {
            return new SoundChannel(name);
        }
    }

    /** {@code kind = "program"}. */
    record Program(String name, List<String> command, Duration limit) implements ChannelSettings {

        public Program {
            command = List.copyOf(command);
        }

        @Override
        public String kind() {
            return "program";
        }

        @Override
        public Channel open(WallClock clock) {
            return new ProgramChannel(name, command, limit);
        }
    }
}
