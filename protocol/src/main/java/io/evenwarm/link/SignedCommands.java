package io.evenwarm.link;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.Message;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.PublicKey;
import java.security.Signature;
import java.security.interfaces.ECPublicKey;
import java.security.spec.X509EncodedKeySpec;
import java.time.Duration;
import java.util.HexFormat;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;

/**
 * Commands on a line that proves nobody's key by itself, such as a serial one.
 *
 * <p>The agent sends a fresh challenge after each hello. The monitor signs, with its identity's
 * key, that challenge, a counter that only rises, and the octets of the command: what somebody
 * recorded on the line is of no use, neither later in this session nor in another.
 */
public final class SignedCommands {

    private static final MessageCodec CODEC = new MessageCodec();
    private static final HexFormat HEX = HexFormat.of();
    private static final byte[] PURPOSE = "evenwarm command 1".getBytes(StandardCharsets.US_ASCII);

    private SignedCommands() {}

    /**
     * A link that signs what commands are sent over it, once the agent has sent a challenge; before
     * that, and with an agent that sends none, commands go out as they are.
     */
    public static Link signing(Link link, Identity own) {
        return new Signing(link, own);
    }

    /**
     * Judges signed commands at the agent's end.
     *
     * <p>Not thread-safe: used by one session's thread.
     */
    public static final class Judge {
        private String nonce = PairingCode.nonce();
        private long lastCounter = Long.MIN_VALUE;

        /** A new challenge; nothing that was signed for an earlier one counts any more. */
        public Message.Challenge challenge() {
            nonce = PairingCode.nonce();
            lastCounter = Long.MIN_VALUE;
            return new Message.Challenge(nonce);
        }

        /**
         * Who signed, and what.
         *
         * @throws NotSignedException when it was not signed for this session, or came before
         */
        public Signed judge(Message.SignedCommand command) throws NotSignedException {
            byte[] octets = HEX.parseHex(command.request());
            Optional<Message> content = CODEC.decode(octets).value();
            if (content.isEmpty() || !(content.get() instanceof Message.CommandRequest request)) {
                throw new NotSignedException("what was signed is no command", Optional.empty());
            }
            Optional<Long> id = Optional.of(request.id());
            Optional<PublicKey> key = publicKey(command.key());
            if (key.isEmpty()) {
                throw new NotSignedException("its key is not an EC P-256 key", id);
            }
            if (!verifies(key.get(), command, octets)) {
                throw new NotSignedException("its signature is not right for this session", id);
            }
            if (command.counter() <= lastCounter) {
                throw new NotSignedException("it came before: each command counts once", id);
            }
            lastCounter = command.counter();
            return new Signed(KeyPin.of(key.get()), request);
        }

        private boolean verifies(PublicKey key, Message.SignedCommand command, byte[] request) {
            try {
                Signature signature = Signature.getInstance(Identity.SIGNATURE);
                signature.initVerify(key);
                signature.update(signed(nonce, command.counter(), request));
                return signature.verify(HEX.parseHex(command.signature()));
            } catch (GeneralSecurityException e) {
                // Not even the form of a signature.
                return false;
            }
        }
    }

    /**
     * A command whose signature was right. Whether its sender may give it is for others to say.
     *
     * @param signer the key that signed
     */
    public record Signed(KeyPin signer, Message.CommandRequest request) {}

    /** A signed command that counts for nothing; the message ends a sentence about it. */
    public static final class NotSignedException extends Exception {
        private static final long serialVersionUID = 1L;

        @SuppressWarnings("serial") // Never written out; Optional is not Serializable.
        private final Optional<Long> id;

        NotSignedException(String message, Optional<Long> id) {
            super(message);
            this.id = id;
        }

        /** The id of the command, for an answer; empty when there was no command in it. */
        public Optional<Long> id() {
            return id;
        }
    }

    /**
     * The pin of an EC key that came in a message.
     *
     * @param key SubjectPublicKeyInfo in DER; hexadecimal
     * @return empty when it is no such key
     */
    public static Optional<KeyPin> pinOf(String key) {
        return publicKey(key).map(KeyPin::of);
    }

    /** An EC P-256 key from its SubjectPublicKeyInfo; empty when it is none. */
    static Optional<PublicKey> publicKey(String hex) {
        try {
            byte[] der = HEX.parseHex(hex);
            PublicKey key =
                    KeyFactory.getInstance("EC").generatePublic(new X509EncodedKeySpec(der));
            // One key, one pin: a second encoding of the same key must not be another name for it.
            boolean isOurs =
                    key instanceof ECPublicKey ec
                            && ec.getParams().getOrder().bitLength() == Identity.KEY_BITS
                            && HEX.formatHex(key.getEncoded()).equals(hex);
            return isOurs ? Optional.of(key) : Optional.empty();
        } catch (GeneralSecurityException | RuntimeException e) {
            return Optional.empty();
        }
    }

    /** Purpose, challenge, counter in 8 octets with the most significant first, request. */
    private static byte[] signed(String nonce, long counter, byte[] request) {
        byte[] challenge = HEX.parseHex(nonce);
        return ByteBuffer.allocate(PURPOSE.length + challenge.length + Long.BYTES + request.length)
                .put(PURPOSE)
                .put(challenge)
                .putLong(counter)
                .put(request)
                .array();
    }

    /** What {@code own} sends for a command after a challenge. */
    static Message.SignedCommand sign(
            Identity own, String nonce, long counter, Message.CommandRequest request) {
        byte[] octets = CODEC.encode(request);
        return new Message.SignedCommand(
                counter,
                own.publicKey(),
                HEX.formatHex(octets),
                HEX.formatHex(own.sign(signed(nonce, counter, octets))));
    }

    private static final class Signing implements Link {
        private final Link link;
        private final Identity own;
        private final AtomicLong counter = new AtomicLong();
        private volatile Optional<String> nonce = Optional.empty();

        Signing(Link link, Identity own) {
            this.link = link;
            this.own = own;
        }

        @Override
        public void send(Message message) throws LinkException {
            if (message instanceof Message.CommandRequest request && nonce.isPresent()) {
                link.send(sign(own, nonce.get(), counter.incrementAndGet(), request));
            } else {
                link.send(message);
            }
        }

        @Override
        public Optional<Message> receive(Duration timeout) throws LinkException {
            Optional<Message> message = link.receive(timeout);
            if (message.isPresent() && message.get() instanceof Message.Challenge challenge) {
                nonce = Optional.of(challenge.nonce());
            }
            return message;
        }

        @Override
        public String peer() {
            return link.peer();
        }

        @Override
        public Optional<KeyPin> peerKey() {
            return link.peerKey();
        }

        @Override
        public long discardedFrames() {
            return link.discardedFrames();
        }

        @Override
        public void close() {
            link.close();
        }
    }
}
