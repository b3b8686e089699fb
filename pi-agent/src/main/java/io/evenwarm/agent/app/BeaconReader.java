package io.evenwarm.agent.app;

import io.evenwarm.agent.app.BeaconSettings.FeedSettings;
import io.evenwarm.agent.beacon.BrokerSettings;
import io.evenwarm.link.Authority;
import io.evenwarm.message.AgentName;
import io.evenwarm.outside.FeedPlan;
import io.evenwarm.settings.FileKey;
import io.evenwarm.settings.SecretFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Pattern;
import javax.net.ssl.SSLContext;

/** Reads {@code [beacon]}, and the secrets that it names files for. */
final class BeaconReader {

    private static final Pattern BROKER =
            Pattern.compile("(tcp|ssl)://(\\[[0-9A-Fa-f:.]+]|[A-Za-z0-9.-]+):\\d{1,5}");
    private static final String BROKER_FORM =
            "\"ssl://host:port\", or \"tcp://host:port\" without encryption";

    /** MQTT 3.1.1 s.4.7.1: no wildcards in the name of a topic. */
    private static final Pattern TOPIC = Pattern.compile("[^+#/\\p{Cntrl}][^+#\\p{Cntrl}]{0,199}");

    private static final String AUTHORITY_FORM = "a file of certificates in PEM";

    private final Path folder;
    private final Optional<AgentName> agent;

    /**
     * @param folder at which paths begin that are not absolute
     * @param agent as far as its name is known
     */
    BeaconReader(Path folder, Optional<AgentName> agent) {
        this.folder = folder;
        this.agent = agent;
    }

    BeaconSettings read(TomlSection beacon) {
        return new BeaconSettings(
                beacon.section("mqtt").flatMap(this::broker),
                beacon.section("switch").flatMap(this::feed));
    }

    private Optional<BrokerSettings> broker(TomlSection section) {
        Optional<String> address =
                section.requiredParsed("broker", BROKER_FORM, text -> matching(BROKER, text));
        Optional<String> topic =
                section.has("topic")
                        ? section.parsed(
                                "topic",
                                "1 to 200 characters, none of them + or #, and no / at either end",
                                BeaconReader::topic)
                        : agent.map(name -> "evenwarm/" + name);
        Optional<String> user = section.text("user");
        Optional<String> password = secret(section, "password_file");
        if (user.isPresent() != section.has("password_file")) {
            section.fault(
                    user.isPresent() ? "password_file" : "user",
                    "both user and password_file, or neither");
        }
        boolean isEncrypted = address.filter(text -> text.startsWith("ssl:")).isPresent();
        if (user.isPresent() && address.isPresent() && !isEncrypted) {
            section.warn(
                    "broker",
                    address.get(),
                    "the password crosses the network unencrypted: use ssl:// where others are on"
                            + " that network.");
        }
        Optional<SSLContext> trust = authority(section);
        return address.flatMap(
                where ->
                        topic.map(
                                under ->
                                        new BrokerSettings(
                                                where,
                                                under,
                                                user.flatMap(
                                                        name ->
                                                                password.map(
                                                                        word ->
                                                                                new BrokerSettings
                                                                                        .Login(
                                                                                        name,
                                                                                        word))),
                                                isEncrypted ? trust : Optional.empty())));
    }

    private Optional<FeedSettings> feed(TomlSection section) {
        boolean stopWhenAlone = section.flag("stop_when_alone", true);
        return FeedPlan.read(section, folder).map(plan -> new FeedSettings(plan, stopWhenAlone));
    }

    private Optional<String> secret(TomlSection section, String key) {
        return FileKey.read(section, key, SecretFile.FORM, folder, SecretFile::read);
    }

    private Optional<SSLContext> authority(TomlSection section) {
        return FileKey.read(section, "authority_file", AUTHORITY_FORM, folder, Authority::trusting);
    }

    private static String topic(String text) {
        if (text.endsWith("/")) {
            throw new IllegalArgumentException(text);
        }
        return matching(TOPIC, text);
    }

    private static String matching(Pattern pattern, String text) {
        if (!pattern.matcher(text).matches()) {
            throw new IllegalArgumentException(text);
        }
        return text;
    }
}
