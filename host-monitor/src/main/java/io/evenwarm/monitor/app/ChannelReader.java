package io.evenwarm.monitor.app;

import io.evenwarm.monitor.notice.Secret;
import io.evenwarm.monitor.notice.channel.JsonTemplate;
import io.evenwarm.monitor.notice.channel.MailChannel;
import io.evenwarm.monitor.notice.channel.MailServer;
import io.evenwarm.monitor.notice.channel.MqttBroker;
import io.evenwarm.monitor.notice.channel.TrustedRoots;
import io.evenwarm.monitor.notice.channel.WebHookSignature;
import io.evenwarm.monitor.notice.channel.WebHookTarget;
import io.evenwarm.settings.FileKey;
import io.evenwarm.settings.TomlSection;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;

/** Reads one {@code [[channel]]} and the files with its secrets. */
final class ChannelReader {

    /** Of all kinds. */
    static final String[] ALL_KEYS = {
        "kind",
        "host",
        "port",
        "security",
        "user",
        "from",
        "authority_file",
        "limit_seconds",
        "template",
        "tls",
        "topic",
        "command"
    };

    private static final List<String> KINDS =
            List.of("mail", "web-hook", "mqtt", "sound", "program");

    private static final String HOST_FORM = "a host's name, for example \"mail.example.org\"";
    private static final int LIMIT_SECONDS = 20;
    private static final int LIMIT_SECONDS_MAX = 300;
    private static final int PORT_MAX = 65_535;

    /** RFC 8314 s.3.3 and RFC 6409 s.3.1. */
    private static final int SUBMISSIONS_PORT = 465;

    private static final int SUBMISSION_PORT = 587;

    /** Registered with IANA as secure-mqtt and mqtt. */
    private static final int SECURE_MQTT_PORT = 8883;

    private static final int MQTT_PORT = 1883;

    private final TomlSection section;
    private final String name;
    private final Path folder;

    /**
     * A reader of one.
     *
     * @param folder where paths begin that are not absolute
     */
    ChannelReader(TomlSection section, String name, Path folder) {
        this.section = section;
        this.name = name;
        this.folder = folder;
    }

    /** The channel; empty, with faults added, when something is wrong with it. */
    Optional<ChannelSettings> read() {
        Optional<String> kind = section.requiredWord("kind", KINDS);
        return kind.flatMap(
                there ->
                        switch (there) {
                            case "mail" -> mail();
                            case "web-hook" -> webHook();
                            case "mqtt" -> mqtt();
                            case "program" -> program();
                            default -> Optional.of(new ChannelSettings.Sound(name));
                        });
    }

    private Optional<ChannelSettings> mail() {
        boolean isTls =
                section.word("security", List.of("starttls", "tls"))
                        .orElse("starttls")
                        .equals("tls");
        Optional<String> host = host();
        Optional<String> from =
                section.requiredParsed(
                        "from",
                        "a mail address alone, for example \"evenwarm@example.org\"",
                        MailChannel::requireAddress);
        int port = port(isTls ? SUBMISSIONS_PORT : SUBMISSION_PORT);
        Duration limit = limit();
        Optional<TrustedRoots> roots = roots();
        Optional<String> user = section.text("user");
        Optional<Secret> password = password(user);
        boolean isWhole =
                host.isPresent()
                        && from.isPresent()
                        && roots.isPresent()
                        && user.isPresent() == password.isPresent();
        return isWhole
                ? Optional.of(
                        new ChannelSettings.Mail(
                                name,
                                new MailServer(
                                        host.get(),
                                        port,
                                        isTls
                                                ? MailServer.Security.TLS
                                                : MailServer.Security.STARTTLS,
                                        user.map(
                                                there ->
                                                        new MailServer.Login(
                                                                there, password.orElseThrow())),
                                        from.get(),
                                        roots.get(),
                                        limit)))
                : Optional.empty();
    }

    private Optional<ChannelSettings> webHook() {
        Duration limit = limit();
        Optional<TrustedRoots> roots = roots();
        Optional<JsonTemplate> template = template();
        Optional<Secret> address =
                secret(
                        "address_file",
                        "which holds an address that begins with https://",
                        text -> WebHookTarget.requireAddress(text).toString());
        boolean hasKey = section.has("signing_key_file");
        Optional<WebHookSignature> key =
                hasKey
                        ? secret(
                                        "signing_key_file",
                                        "which holds whsec_ and 24 to 64 octets in Base64",
                                        ChannelReader::signingKey)
                                .map(WebHookSignature::new)
                        : Optional.empty();
        boolean isWhole =
                roots.isPresent()
                        && template.isPresent()
                        && address.isPresent()
                        && hasKey == key.isPresent();
        return isWhole
                ? Optional.of(
                        new ChannelSettings.WebHook(
                                name,
                                new WebHookTarget(
                                        address.get(), template.get(), key, roots.get(), limit)))
                : Optional.empty();
    }

    private Optional<JsonTemplate> template() {
        Optional<String> text = section.text("template");
        if (text.isEmpty()) {
            return section.has("template") ? Optional.empty() : Optional.of(JsonTemplate.USUAL);
        }
        try {
            return Optional.of(JsonTemplate.parse(text.get()));
        } catch (IllegalArgumentException e) {
            section.fault(
                    "template",
                    "a JSON object with fields such as {{subject}} in its texts; "
                            + e.getMessage());
            return Optional.empty();
        }
    }

    private Optional<ChannelSettings> mqtt() {
        boolean isTls = section.flag("tls", true);
        Optional<String> host = host();
        int port = port(isTls ? SECURE_MQTT_PORT : MQTT_PORT);
        Duration limit = limit();
        String topicForm = "a topic without wildcards, for example \"house/eggs\"";
        Optional<String> topic =
                section.has("topic")
                        ? section.parsed("topic", topicForm, MqttBroker::requireTopic)
                        : Optional.of("evenwarm");
        if (!isTls && section.has("authority_file")) {
            section.fault("authority_file", "nothing: it belongs to tls = true");
        }
        Optional<TrustedRoots> roots = roots();
        Optional<String> user = section.text("user");
        Optional<Secret> password = password(user);
        boolean isWhole =
                host.isPresent()
                        && topic.isPresent()
                        && roots.isPresent()
                        && user.isPresent() == password.isPresent();
        return isWhole
                ? Optional.of(
                        new ChannelSettings.Mqtt(
                                name,
                                new MqttBroker(
                                        host.get(),
                                        port,
                                        isTls ? roots : Optional.empty(),
                                        user.map(
                                                there ->
                                                        new MqttBroker.Login(
                                                                there, password.orElseThrow())),
                                        topic.get(),
                                        limit)))
                : Optional.empty();
    }

    private Optional<ChannelSettings> program() {
        List<String> command = section.texts("command");
        Duration limit = limit();
        if (command.isEmpty() || !Path.of(command.get(0)).isAbsolute()) {
            section.faultWithFound(
                    "command",
                    command.isEmpty() ? section.foundAt("command") : "\"" + command.get(0) + "\"",
                    "a program's whole path and its arguments, for example"
                            + " [\"/usr/local/bin/tell\", \"--now\"]");
            return Optional.empty();
        }
        return Optional.of(new ChannelSettings.Program(name, command, limit));
    }

    private Optional<String> host() {
        return section.requiredParsed(
                "host",
                HOST_FORM,
                text -> {
                    if (!text.matches("[A-Za-z0-9.:-]{1,253}")) {
                        throw new IllegalArgumentException(text);
                    }
                    return text;
                });
    }

    private int port(int usual) {
        return section.whole("port", 1, PORT_MAX, "").orElse(usual);
    }

    private Duration limit() {
        return Duration.ofSeconds(
                section.whole("limit_seconds", 1, LIMIT_SECONDS_MAX, "seconds")
                        .orElse(LIMIT_SECONDS));
    }

    private Optional<TrustedRoots> roots() {
        Optional<String> file = section.text("authority_file");
        if (file.isEmpty()) {
            return section.has("authority_file")
                    ? Optional.empty()
                    : Optional.of(TrustedRoots.usual());
        }
        try {
            return Optional.of(TrustedRoots.of(folder.resolve(file.get())));
        } catch (IOException e) {
            section.fault(
                    "authority_file", "a file with certificates as PEM (" + e.getMessage() + ")");
            return Optional.empty();
        }
    }

    private Optional<Secret> password(Optional<String> user) {
        if (user.isEmpty()) {
            if (section.has("password_file")) {
                section.fault("password_file", "nothing: it belongs to user");
            }
            return Optional.empty();
        }
        return secret("password_file", "which holds the password", text -> text);
    }

    private static String signingKey(String text) {
        new WebHookSignature(new Secret(text));
        return text;
    }

    /**
     * From a file of its own; no fault shows anything of it.
     *
     * @param holds what stands in the file, for the fault
     */
    private Optional<Secret> secret(String key, String holds, UnaryOperator<String> check) {
        return FileKey.secret(section, key, holds, folder, check).map(Secret::new);
    }
}
