package io.evenwarm.agent.app;

import io.evenwarm.agent.app.BeaconSettings.FeedSettings;
import io.evenwarm.agent.beacon.BrokerSettings;
import io.evenwarm.link.Authority;
import io.evenwarm.message.AgentName;
import io.evenwarm.settings.SecretFile;
import io.evenwarm.settings.TomlSection;
import java.io.IOException;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.time.Duration;
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
    private static final int USUAL_SECONDS = 60;

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
        if (!section.has("address_file")) {
            section.fault("address_file", SecretFile.FORM + ", which holds the switch's address");
        }
        Optional<URI> address = secret(section, "address_file").flatMap(text -> uri(section, text));
        int seconds = section.whole("every_seconds", 10, 120, "s").orElse(USUAL_SECONDS);
        boolean stopWhenAlone = section.flag("stop_when_alone", true);
        Optional<SSLContext> trust = authority(section);
        return address.map(
                where ->
                        new FeedSettings(where, Duration.ofSeconds(seconds), trust, stopWhenAlone));
    }

    private static Optional<URI> uri(TomlSection section, String text) {
        try {
            URI address = new URI(text);
            boolean isWeb =
                    "https".equals(address.getScheme()) || "http".equals(address.getScheme());
            if (isWeb && address.getHost() != null) {
                return Optional.of(address);
            }
        } catch (URISyntaxException e) {
            // Told below, without the text, which is a secret.
        }
        section.faultWithFound(
                "address_file", "a file without a web address", "https://host/… in the file");
        return Optional.empty();
    }

    private Optional<String> secret(TomlSection section, String key) {
        return fromFile(section, key, SecretFile.FORM, SecretFile::read);
    }

    private Optional<SSLContext> authority(TomlSection section) {
        return fromFile(section, "authority_file", AUTHORITY_FORM, Authority::trusting);
    }

    private interface FileReading<T> {
        T of(Path file) throws IOException;
    }

    private <T> Optional<T> fromFile(
            TomlSection section, String key, String form, FileReading<T> reading) {
        Optional<Path> file = section.parsed(key, form, folder::resolve);
        if (file.isEmpty()) {
            return Optional.empty();
        }
        try {
            return Optional.of(reading.of(file.get()));
        } catch (IOException e) {
            String words = Failures.words(e);
            boolean isNamed = words.contains(file.get().toString());
            section.faultWithFound(key, isNamed ? words : file.get() + ": " + words, form);
            return Optional.empty();
        }
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
