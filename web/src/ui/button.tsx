import type { ReactNode } from 'react';
import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components/Button';
import { Icon, type IconName } from './icon.tsx';

export interface ButtonProps extends Omit<AriaButtonProps, 'children' | 'className'> {
  /** `primary`: the one thing to do here. `quiet`: no frame until touched. `alert`: takes something away. */
  look?: 'plain' | 'primary' | 'quiet' | 'alert';
  icon?: IconName;
  children: ReactNode;
}

/** A button with words, and an icon before them where it helps. */
export function Button({ look = 'plain', icon, children, ...rest }: ButtonProps) {
  return (
    <AriaButton {...rest} className={`button button-${look}`}>
      {icon && <Icon name={icon} />}
      <span>{children}</span>
    </AriaButton>
  );
}

export interface IconButtonProps extends Omit<AriaButtonProps, 'children' | 'className'> {
  icon: IconName;
  /** What it does, for those who cannot see the icon. */
  label: string;
}

/** A square button with an icon only. */
export function IconButton({ icon, label, ...rest }: IconButtonProps) {
  return (
    <AriaButton {...rest} aria-label={label} className="button button-quiet button-icon">
      <Icon name={icon} />
    </AriaButton>
  );
}
