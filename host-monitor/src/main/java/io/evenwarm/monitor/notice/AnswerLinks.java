package io.evenwarm.monitor.notice;

import io.evenwarm.clock.WallClock;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.InvalidKeyException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * The links in notices by which a person acknowledges. A link's secret is bound to one notice and
 * one person: HMAC-SHA256 (RFC 2104) over both with a key of this monitor's. So a delivery that is
 * tried again has the same link, and the store need keep no more than the secret's hash.
 *
 * <p>A link that is opened does nothing: mail scanners open links. Any thread may call.
 */
public final class AnswerLinks {

    /** So long after the end of its event a link still says what it was about. */
    public static final Duration AFTER_END = Duration.ofHours(24);

    /** Path at the page's address, before the secret. */
    public static final String PATH = "/answer/";

    private static final System.Logger LOG = System.getLogger(AnswerLinks.class.getName());

    /** 256 bits in base64url (RFC 4648 s.5). */
    private static final Pattern TOKEN = Pattern.compile("[A-Za-z0-9_-]{43}");

    /** Links that a failing store did not take; the eldest then goes. */
    private static final int UNKEPT_MAX = 1000;

    private final String pageAddress;
    private final Secret key;
    private final NoticeStore store;
    private final WallClock wall;

    /** By the hash of their secret. Guarded by this. */
    private final Map<String, AnswerLink> unkept = new LinkedHashMap<>();

    /**
     * @param pageAddress where people reach the page, {@code https://host:port}
     * @param key at least 256 bits of chance
     */
    public AnswerLinks(String pageAddress, Secret key, NoticeStore store, WallClock wall) {
        this.pageAddress = pageAddress;
        this.key = key;
        this.store = store;
        this.wall = wall;
    }

    /** The link by which a person answers a notice; empty when there is nothing to acknowledge. */
    public Optional<String> of(Notice notice, String person) {
        if (!notice.kind().wantsAnswer()) {
            return Optional.empty();
        }
        String token = token(notice, person);
        keep(new AnswerLink(hash(token), notice, person, wall.now(), Optional.empty()));
        return Optional.of(pageAddress + PATH + token);
    }

    private String token(Notice notice, String person) {
        try {
            Mac mac = Mac.getInstance("HmacSHA256");
            mac.init(
                    new SecretKeySpec(
                            key.reveal().getBytes(StandardCharsets.US_ASCII), "HmacSHA256"));
            byte[] octets =
                    mac.doFinal(
                            ("answer " + notice.id() + "\n" + person)
                                    .getBytes(StandardCharsets.UTF_8));
            return Base64.getUrlEncoder().withoutPadding().encodeToString(octets);
        } catch (NoSuchAlgorithmException | InvalidKeyException e) {
            throw new IllegalStateException("every Java has HMAC-SHA256", e);
        }
    }

    private static String hash(String token) {
        try {
            return HexFormat.of()
                    .formatHex(
                            MessageDigest.getInstance("SHA-256")
                                    .digest(token.getBytes(StandardCharsets.US_ASCII)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    private void keep(AnswerLink link) {
        try {
            store.keep(link);
        } catch (IOException e) {
            // Good until this program ends, which is better than none.
            LOG.log(
                    System.Logger.Level.WARNING,
                    () -> "a link in a notice can't be kept: " + e.getMessage());
            synchronized (this) {
                unkept.put(link.tokenHash(), link);
                if (unkept.size() > UNKEPT_MAX) {
                    unkept.remove(unkept.keySet().iterator().next());
                }
            }
        }
    }

    /**
     * What a link is for; empty when there is no such link, or no longer. Changes nothing.
     *
     * @throws IOException when the store can't be asked
     */
    public Optional<AnswerLink> find(String token) throws IOException {
        if (!TOKEN.matcher(token).matches()) {
            return Optional.empty();
        }
        String hash = hash(token);
        synchronized (this) {
            if (unkept.containsKey(hash)) {
                return Optional.ofNullable(unkept.get(hash));
            }
        }
        Instant now = wall.now();
        return store.link(hash)
                .filter(
                        link ->
                                link.eventEnded()
                                        .map(ended -> now.isBefore(ended.plus(AFTER_END)))
                                        .orElse(true));
    }
}
